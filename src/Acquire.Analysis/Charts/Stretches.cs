namespace Acquire.Analysis.Charts;

/// <summary>Cuts an axis into stretches over which something stays the same.</summary>
internal static class Stretches
{
    /// <summary>
    /// Stretches that cover the whole range without overlap; each ends half-way between the last strip of one kind and the first of the
    /// next.
    /// </summary>
    /// <param name="sorted">What is cut, by its place.</param>
    /// <param name="placeOf">The place.</param>
    /// <param name="kindOf">What stays the same.</param>
    /// <param name="range">The whole axis.</param>
    /// <param name="same">Tells kinds apart.</param>
    public static ImmutableArray<(double From, double To, TKind Kind)> Of<T, TKind>(
        IReadOnlyList<T> sorted, Func<T, double> placeOf, Func<T, TKind> kindOf, ChartRange range, IEqualityComparer<TKind> same)
    {
        var stretches = ImmutableArray.CreateBuilder<(double, double, TKind)>();
        var from = range.Low;
        for (var i = 0; i < sorted.Count; i++)
        {
            var kind = kindOf(sorted[i]);
            if (i == sorted.Count - 1)
            {
                stretches.Add((from, range.High, kind));
            }
            else if (!same.Equals(kind, kindOf(sorted[i + 1])))
            {
                var to = (placeOf(sorted[i]) + placeOf(sorted[i + 1])) / 2;
                stretches.Add((from, to, kind));
                from = to;
            }
        }

        return stretches.ToImmutable();
    }
}
