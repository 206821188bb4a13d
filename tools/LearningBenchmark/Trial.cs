using Acquire.Instruments.Learning;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Profiles;
using LearningBenchmark.Formats;

namespace LearningBenchmark;

/// <summary>How one format was learned.</summary>
public enum Outcome
{
    /// <summary>Every further line was read exactly, every damaged one refused.</summary>
    Exact,

    /// <summary>Learned, nothing wrong, but some further good lines were refused.</summary>
    Narrow,

    /// <summary>No profile, although one was possible.</summary>
    DeclinedNeedlessly,

    /// <summary>No profile, and none could be had for certain.</summary>
    DeclinedRightly,

    /// <summary>A line was taken for another reading than it was.</summary>
    Wrong,
}

/// <summary>What came of one format.</summary>
/// <param name="Outcome">How it was learned.</param>
/// <param name="Detail">An example of what went amiss; else empty.</param>
/// <param name="Capture">The capture.</param>
public sealed record TrialResult(Outcome Outcome, string Detail, string Capture)
{
    /// <summary>The rare way of writing that was tried.</summary>
    public RareHabit Habit { get; init; }
}

/// <summary>Learns one invented format from three readings and tries the profile on lines it has not seen.</summary>
/// <param name="format">The format.</param>
/// <param name="random">Draws values and times.</param>
/// <param name="pauses">Whether only pauses end the lines of this format; the capture then has times.</param>
public sealed class Trial(InventedFormat format, Random random, bool pauses = false)
{
    private const int FurtherReadings = 8;
    private readonly FormatWriter _writer = new(format, random);

    public TrialResult Run() => Tried() with { Habit = format.Habit };

    private TrialResult Tried()
    {
        var (lines, shown) = Capture();
        var input = pauses
            ? LearningInput.Timed(PausedLines.Of(lines, _writer, random), null, shown, format.Shown, "learned")
            : new LearningInput(_writer.Frame(lines), shown, format.Shown);
        var text = string.Concat(input.Capture.ToArray().Select(b => RawLine.Printable([(byte)(b & 0x7F)])));
        return ProfileLearner.Learn(input) switch
        {
            LearningResult.Declined declined => new TrialResult(
                format.Flaw is null ? Outcome.DeclinedNeedlessly : Outcome.DeclinedRightly, string.Join(" // ", declined.Reasons), text),
            LearningResult.Learned learned => Judge(learned.Profile) is var (outcome, detail)
                ? new TrialResult(
                    outcome,
                    $"{detail} [{string.Join(" | ", learned.Profile.Rules.Select(r => r.Template!.Text))}; {learned.Profile.Number}]",
                    text)
                : throw new InvalidOperationException("Not reached."),
            var other => throw new InvalidOperationException($"{other} is no result."),
        };
    }

    private (List<string> Lines, ImmutableArray<ShownReading> Shown) Capture()
    {
        var lines = _writer.Opening();
        var shown = ImmutableArray.CreateBuilder<ShownReading>();
        for (var i = 0; i < 3; i++)
        {
            var values = Draws.Values(format, random, i);
            lines.AddRange(_writer.Lines(values, out _));
            shown.Add(Shown(values, i));
            if (i == 1 && format.OverRange.Length > 0)
            {
                var beyond = Draws.Beyond(Draws.Values(format, random, 1), format.Shown[random.Next(format.Shown.Length)]);
                lines.AddRange(_writer.Lines(beyond, out _));
                shown.AddRange(Enumerable.Repeat(Shown(beyond, i), format.OverRangeShown ? 1 : 0));
            }

            if (i == 1 && format.Flaw == Flaw.ReadingMissed)
            {
                lines.AddRange(_writer.Lines(Draws.Values(format, random, 1), out _));
            }
        }

        return (lines, shown.ToImmutable());
    }

    private ShownReading Shown(Dictionary<Channel, decimal?> values, int index) => new(
        [.. format.Shown.Select((c, i) => values[c] is { } value ? new Density(Typed(value, i == 1 && index == 1)) : (Density?)null)]);

    private decimal Typed(decimal value, bool here) => format.Flaw switch
    {
        Flaw.DisplayRounds => Math.Round(value, format.Decimals - 1),
        Flaw.Mistyped when here => Displayed(value) + 0.1m,
        _ => Displayed(value),
    };

    private decimal Displayed(decimal value) =>
        format.Habit != RareHabit.MoreSent ? value
        : Math.Round(value, format.DisplayDecimals, format.Cuts ? MidpointRounding.ToZero : MidpointRounding.AwayFromZero) + 0.00m;

    private (Outcome Outcome, string Detail) Judge(DeviceProfile profile)
    {
        var narrow = "";
        for (var i = 0; i < FurtherReadings; i++)
        {
            _writer.Later();
            var values = Draws.Further(format, random, i);
            var lines = _writer.Lines(values, out var own);
            var events = Replay(profile, lines);
            var taken = events.Where(e => e is InstrumentEvent.ReadingTaken or InstrumentEvent.BeyondRange).ToList();
            if (taken.Any(e => !Right(e, values)))
            {
                return (Outcome.Wrong, $"read wrong: {string.Join('⏎', lines)}");
            }

            narrow =
                taken.Count == 1 && !events.Any(e => e is InstrumentEvent.UnmatchedLine) ? narrow : $"refused: {string.Join('⏎', lines)}";
            foreach (var damaged in Damage.Of(format, lines, own, random)
                .Where(d => Replay(profile, d).Any(e => e is InstrumentEvent.ReadingTaken && !Right(e, values))))
            {
                return (Outcome.Wrong, $"damaged but taken: {string.Join('⏎', damaged)} for {string.Join('⏎', lines)}");
            }
        }

        return (narrow.Length > 0 ? Outcome.Narrow : Outcome.Exact, narrow);
    }

    private ImmutableArray<InstrumentEvent> Replay(DeviceProfile profile, IEnumerable<string> lines)
    {
        var framer = new LineFramer(profile.Framing, profile.Link.MaskTopBit);
        var interpreter = new LineInterpreter(profile);
        return [.. (pauses ? Paused(framer, lines) : framer.Push(_writer.Frame(lines), DateTimeOffset.UnixEpoch)).Select(
            interpreter.Interpret)];
    }

    /// <summary>The frames of lines that come with pauses, as if none between channels were longer than an instrument makes it.</summary>
    private List<LineFrame> Paused(LineFramer framer, IEnumerable<string> lines)
    {
        var chunks = PausedLines.Of(lines, _writer, random);
        List<LineFrame> frames = [.. chunks.SelectMany(c => framer.Push(c.Bytes.AsSpan(), c.At))];
        frames.AddRange(framer.Flush(DateTimeOffset.MaxValue));
        return [.. frames.Select((f, i) => f with { Line = f.Line with { ReceivedAt = DateTimeOffset.UnixEpoch.AddMilliseconds(i) } })];
    }

    private bool Right(InstrumentEvent taken, Dictionary<Channel, decimal?> values) => taken switch
    {
        InstrumentEvent.ReadingTaken { Reading.Densities: var read } =>
            Channels.All.All(c => read[c]?.Value == (format.Shown.Contains(c) ? values[c] : null)),
        InstrumentEvent.BeyondRange { Channels: var beyond } => beyond.All(c => values[c] is null) && values.Values.Any(v => v is null),
        _ => false,
    };
}
