using System.Text.Json;
using System.Text.Json.Serialization;
using Acquire.Formats.Json;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Monitoring;

namespace Acquire.Rendering.Monitoring;

/// <summary>Prints what comes over a line: seconds since the start, the line, what the profile makes of it, and the bytes in hex.</summary>
internal sealed class ListenPrinter(IAnsiConsole console, TimeProvider time, bool hex, bool hasProfile)
{
    private readonly long _begun = time.GetTimestamp();
    private readonly EventTally _lines = new();

    public void Chunk(ReadOnlyMemory<byte> chunk)
    {
        foreach (var row in hex ? HexRows.Of(chunk) : [])
        {
            console.Line($"{Seconds()}  {row}");
        }
    }

    public void Line(InstrumentEvent received)
    {
        _lines.Add(received);
        console.Line($"{Seconds()}  {received.Line.Text}");
        if (hasProfile)
        {
            console.Line($"{"",10}  → {EventLine.Meaning(received)}");
        }
    }

    public void Summary(LineMonitor monitor)
    {
        var tally = monitor.Tally;
        if (!monitor.UnfinishedLine.IsEmpty)
        {
            console.Line($"{Seconds()}  {RawLine.Printable(monitor.UnfinishedLine)}   (no line end so far)");
        }

        console.Line(
            string.Create(CultureInfo.InvariantCulture, $"{tally.Bytes} bytes in {time.GetElapsedTime(_begun).TotalSeconds:0.0} s."));
        console.Line(TallyWords.LineEnds(tally));
        console.Line(TallyWords.Parity(tally));
        if (hasProfile)
        {
            console.Line(_lines.ToString());
        }
    }

    private string Seconds() => $"{time.GetElapsedTime(_begun).TotalSeconds.ToString("0.000", CultureInfo.InvariantCulture),10}";
}

/// <summary>Bytes in rows of sixteen, in hexadecimal and as text.</summary>
internal static class HexRows
{
    private const int BytesPerRow = 16;

    public static IEnumerable<string> Of(ReadOnlyMemory<byte> bytes)
    {
        for (var at = 0; at < bytes.Length; at += BytesPerRow)
        {
            var row = bytes.Span.Slice(at, Math.Min(BytesPerRow, bytes.Length - at));
            yield return $"{string.Join(' ', Convert.ToHexString(row).Chunk(2).Select(b => new string(b))),-47}  {RawLine.Printable(row)}";
        }
    }
}

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

/// <summary>
/// One line of an instrument as one line of JSON. The names are a contract; new ones may be added. Densities keep the decimals shown.
/// </summary>
internal static class EventJson
{
    private static readonly JsonSerializerOptions Options = new(JsonText.Options) { DefaultIgnoreCondition = JsonIgnoreCondition.Never };

    public static string Of(InstrumentEvent received)
    {
        var densities = DensitiesOf(received);
        return JsonSerializer.Serialize(
            new EventObject(
                densities?.Red?.Value, densities?.Green?.Value, densities?.Blue?.Value, densities?.Visual?.Value, received.Meaning.State())
            {
                Channels = (received as InstrumentEvent.BeyondRange)?.Channels.Select(c => c.Word()),
                Line = received.Meaning == LineMeaning.Reading ? null : received.Line.Text,
                Reason = (received as InstrumentEvent.UnmatchedLine)?.Reason,
                Note = received.Note,
            },
            Options);
    }

    private static ChannelDensities? DensitiesOf(InstrumentEvent received) => received switch
    {
        InstrumentEvent.ReadingTaken { Reading: var reading } => reading.Densities,
        InstrumentEvent.ChannelTaken { Channel: var channel, Density: var density } => ChannelDensities.Of([new(channel, density)]),
        _ => null,
    };

    private sealed record EventObject(decimal? Red, decimal? Green, decimal? Blue, decimal? Visual, string State)
    {
        [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
        public IEnumerable<string>? Channels { get; init; }

        [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
        public string? Line { get; init; }

        [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
        public string? Reason { get; init; }

        [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
        public string? Note { get; init; }
    }
}
