namespace Acquire.Analysis.Charts;

/// <summary>A place on an axis that is labelled.</summary>
/// <param name="At">The place.</param>
/// <param name="Label">What it says.</param>
public readonly record struct ChartTick(double At, string Label);

/// <summary>Chooses round places on an axis.</summary>
public static class ChartTicks
{
    /// <summary>Round places on the axis of a chart, so many at most.</summary>
    /// <param name="axis">The axis: days, weeks, months and years are round on that of dates.</param>
    /// <param name="range">Its range.</param>
    /// <param name="most">How many there is room for, 1 at least.</param>
    public static ImmutableArray<ChartTick> Of(ChartAxis axis, ChartRange range, int most) =>
        axis == ChartAxis.Date ? DateTicks.Of(range, most) : Numbers(range, most);

    /// <summary>Round numbers: 1, 2 or 5 times a power of ten apart.</summary>
    public static ImmutableArray<ChartTick> Numbers(ChartRange range, int most)
    {
        var step = Math.Pow(10, Math.Floor(Math.Log10(range.Width / Math.Max(most, 1))));
        foreach (var factor in new[] { 1, 2, 5, 10, 20, 50, 100 })
        {
            var (first, last) = (Math.Ceiling(range.Low / (step * factor)), Math.Floor(range.High / (step * factor)));
            if (last - first + 1 <= Math.Max(most, 1))
            {
                var digits = Math.Clamp(-(int)Math.Floor(Math.Log10(step * factor) + 1e-9), 0, 10);
                var format = "F" + digits.ToString(CultureInfo.InvariantCulture);
                return [.. Enumerable.Range(0, Math.Max(0, (int)(last - first + 1))).Select(i => (first + i) * step * factor)
                    .Select(v => new ChartTick(v, (Math.Abs(v) < step / 2 ? 0 : v).ToString(format, CultureInfo.InvariantCulture)))];
            }
        }

        return [];
    }
}
