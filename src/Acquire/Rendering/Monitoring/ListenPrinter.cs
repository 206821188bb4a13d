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
