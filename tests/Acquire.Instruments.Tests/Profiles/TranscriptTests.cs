using System.Runtime.CompilerServices;
using System.Text.RegularExpressions;
using Acquire.Instruments.Lines;

namespace Acquire.Instruments.Tests.Profiles;

/// <summary>
/// One captured transcript per family: <c>NAME.transcript</c> holds chunks as they came, each as milliseconds since the start, a blank and
/// the bytes (control characters as <c>\xNN</c>); <c>NAME.expected</c> holds what every line of it is. The numbers are invented.
/// </summary>
public sealed partial class TranscriptTests
{
    public static TheoryData<string> Names() => ShippedProfiles.Names();

    [Theory]
    [MemberData(nameof(Names))]
    public void Transcript_gives_the_expected_events(string name)
    {
        var profile = ShippedProfiles.Get(name);
        var framer = new LineFramer(profile.Framing, profile.Link.MaskTopBit);
        var interpreter = new LineInterpreter(profile);
        var frames = Chunks(name).SelectMany(c => framer.Push(c.Bytes, c.At)).ToList();
        frames.AddRange(framer.Deadline is { } deadline ? framer.Flush(deadline) : framer.Finish());

        Assert.Equal(File.ReadAllLines(PathOf(name, "expected")), frames.Select(f => Describe(interpreter.Interpret(f))));
    }

    private static IEnumerable<(DateTimeOffset At, byte[] Bytes)> Chunks(string name) =>
        from line in File.ReadAllLines(PathOf(name, "transcript"))
        let parts = line.Split(' ', 2)
        let text = Escape().Replace(parts[1], m => ((char)Convert.ToByte(m.Groups[1].Value, 16)).ToString())
        select (DateTimeOffset.UnixEpoch.AddMilliseconds(int.Parse(parts[0], CultureInfo.InvariantCulture)),
            System.Text.Encoding.Latin1.GetBytes(text));

    private static string Describe(InstrumentEvent e) => (e switch
    {
        InstrumentEvent.ReadingTaken taken => $"reading {taken.Reading.Densities}",
        InstrumentEvent.BeyondRange beyond => string.Join(' ', beyond.Channels.Select(c => c.ToString()).Prepend("over-range")),
        { Meaning: LineMeaning.Partial } => "channel",
        _ => e.Meaning.ToString().ToLowerInvariant(),
    }) + (e.Note is null ? "" : " (one given up)");

    private static string PathOf(string name, string kind, [CallerFilePath] string here = "") =>
        Path.Combine(Path.GetDirectoryName(here)!, "Transcripts", $"{name}.{kind}");

    [GeneratedRegex(@"\\x([0-9A-F]{2})")]
    private static partial Regex Escape();
}
