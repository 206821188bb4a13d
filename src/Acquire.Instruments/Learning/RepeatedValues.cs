namespace Acquire.Instruments.Learning;

/// <summary>Finds lines on which every density stands more than once.</summary>
internal static class RepeatedValues
{
    /// <summary>The interpretation with every place of every channel, so that a profile asks for the same number in all of them; null
    /// where not all channels are repeated equally often. One channel alone that is found twice may be another by chance.</summary>
    public static Interpretation? Of(Interpretation interpretation) =>
        Widened(interpretation, fromLeft: true) ?? Widened(interpretation, fromLeft: false);

    private static Interpretation? Widened(Interpretation interpretation, bool fromLeft)
    {
        var places = Enumerable.Range(0, interpretation.Readings[0].Length)
            .Select(p => Widened([.. interpretation.Readings.Select(r => r[p])], interpretation.Scanner, fromLeft)).ToList();
        return places.Any(p => p.IsDefault)
            || places.Select(p => p[0].Values.Length / p[0].Values.Select(v => v.Channel).Distinct().Count()).Distinct().Count() > 1
            ? null
            : interpretation with
            {
                Readings = [.. interpretation.Readings.Select((_, i) => places.Select(p => p[i]).ToImmutableArray())],
            };
    }

    /// <summary>The lines with all places of their channels; default where there are no more, or not as many of each.</summary>
    private static ImmutableArray<ReadingLine> Widened(ImmutableArray<ReadingLine> lines, ValueScanner scanner, bool fromLeft)
    {
        var scans = lines.Select(l => fromLeft ? scanner.Scan(l.Text).ToList() : [.. scanner.Scan(l.Text).Reverse()]).ToList();
        var columns = lines[0].Values.Select(v => v.Channel).Distinct()
            .Select(c => (Channel: c, At: Enumerable.Range(0, scans.Min(s => s.Count)).Where(i => lines.Index().All(
                l => scans[l.Index][i].Value == l.Item.Values.First(v => v.Channel == c).Span.Value)).ToList()))
            .ToList();
        return columns[0].At.Count < 2 || columns.Any(c => c.At.Count != columns[0].At.Count)
            ? default
            : [.. lines.Select((l, n) => new ReadingLine(
                l.Index, l.Text, [.. columns.SelectMany(c => c.At.Select(i => (c.Channel, scans[n][i]))).OrderBy(v => v.Item2.Start)]))];
    }
}
