using System.Text;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Learning;

/// <summary>Which shown values stand on the lines of a burst, however its lines end and its numbers are written.</summary>
internal static class SeenValues
{
    /// <summary>The shown values that stand nowhere.</summary>
    public static ImmutableArray<Density> Absent(ShownReading shown, Burst burst)
    {
        var decimals = Math.Max(1, shown.Values.Max(v => v?.Decimals ?? 1));
        var lines = Lines(burst).ToList();
        var seen = Enum.GetValues<DecimalMark>().Select(m => new ValueScanner(m, decimals))
            .SelectMany(s => lines.SelectMany(l => s.Scan(l))).Select(s => s.Value).ToHashSet();
        return [.. shown.Values.OfType<Density>().Where(v => !seen.Contains(v.Value)).Distinct()];
    }

    private static IEnumerable<string> Lines(Burst burst)
    {
        var mask = TopBits.Of(burst.Bytes.AsSpan()) != TopBit.Data;
        return PauseGaps.Of(burst.Chunks).Select(g => (TimeSpan?)g).Append(null).SelectMany(gap =>
        {
            var framer = new LineFramer(new FramingSettings { IdleGap = gap, MaxLength = 4096 }, mask);
            List<LineFrame> frames = [.. burst.Chunks.SelectMany(c => framer.Push(c.Bytes.AsSpan(), c.At))];
            return frames.Concat(framer.Finish()).Select(f => Encoding.Latin1.GetString(f.Line.Bytes.AsSpan()));
        });
    }
}
