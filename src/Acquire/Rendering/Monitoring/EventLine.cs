using Acquire.Instruments.Lines;

namespace Acquire.Rendering.Monitoring;

/// <summary>One line of an instrument as a row for people: seconds, state, densities, and the line where it is no reading.</summary>
internal static class EventLine
{
    public static string Heading { get; } = Row("seconds", "state", Channels.All.Select(c => c.Word()), "line");

    public static string Of(InstrumentEvent received, TimeSpan since)
    {
        var densities = (received as InstrumentEvent.ReadingTaken)?.Reading.Densities;
        return Row(
            since.TotalSeconds.ToString("0.000", CultureInfo.InvariantCulture),
            received.Meaning.State(),
            Channels.All.Select(c => densities?[c]?.ToString() ?? ""),
            densities is null ? received.Line.Text + Words(received) : Words(received));
    }

    /// <summary>What a line was taken for, in words.</summary>
    public static string Meaning(InstrumentEvent received) => received.Meaning.State() + received switch
    {
        InstrumentEvent.ReadingTaken { Reading: var reading } => $" {reading.Densities}",
        InstrumentEvent.ChannelTaken { Channel: var channel, Density: var density } => $" {channel.Letter()} {density}",
        InstrumentEvent.BeyondRange { Channels: { IsEmpty: false } channels } => $" {string.Join(", ", channels.Select(c => c.Word()))}",
        _ => "",
    } + Words(received);

    private static string Words(InstrumentEvent received)
    {
        var reason = (received as InstrumentEvent.UnmatchedLine)?.Reason;
        var words = string.Join(' ', new[] { reason, received.Note }.OfType<string>());
        return words.Length == 0 ? "" : $"   {words}";
    }

    private static string Row(string at, string state, IEnumerable<string> densities, string line) =>
        $"{at,10}  {state,-11} {string.Concat(densities.Select(d => $"{d,7}"))}  {line}".TrimEnd();
}

/// <summary>How many lines there were of each state, in words.</summary>
internal sealed class EventTally
{
    private readonly SortedDictionary<LineMeaning, int> _counts = [];

    public void Add(InstrumentEvent received) => _counts[received.Meaning] = _counts.GetValueOrDefault(received.Meaning) + 1;

    public override string ToString() => _counts.Count == 0
        ? "There is no line."
        : $"{_counts.Values.Sum()} lines: {string.Join(", ", _counts.Select(c => $"{c.Value} {c.Key.State()}"))}.";
}
