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

/// <summary>Round dates: hours, days, Mondays, first days of months, of quarters, of years.</summary>
internal static class DateTicks
{
    private static readonly ImmutableArray<Func<DateTime, DateTime, IEnumerable<DateTime>>> Steps =
    [
        (from, to) => Every(from, to, TimeSpan.FromHours(1)),
        (from, to) => Every(from, to, TimeSpan.FromHours(3)),
        (from, to) => Every(from, to, TimeSpan.FromHours(6)),
        (from, to) => Every(from, to, TimeSpan.FromHours(12)),
        (from, to) => Every(from, to, TimeSpan.FromDays(1)),
        (from, to) => Every(from, to, TimeSpan.FromDays(2)),

        // Day 0 of the calendar that .NET counts in, 0001-01-01, is a Monday.
        (from, to) => Every(from, to, TimeSpan.FromDays(7)),
        (from, to) => Every(from, to, TimeSpan.FromDays(14)),
        (from, to) => Months(from, to, 1),
        (from, to) => Months(from, to, 2),
        (from, to) => Months(from, to, 3),
        (from, to) => Months(from, to, 6),
        (from, to) => Months(from, to, 12),
        (from, to) => Months(from, to, 24),
        (from, to) => Months(from, to, 60),
        (from, to) => Months(from, to, 120),
    ];

    public static ImmutableArray<ChartTick> Of(ChartRange range, int most)
    {
        var (from, to) = (ChartAxes.MomentOf(range.Low), ChartAxes.MomentOf(range.High));
        foreach (var step in Steps)
        {
            // One more than there is room for is enough to know that a step is too small.
            var moments = step(from, to).Take(most + 1).ToList();
            if (moments.Count <= most)
            {
                return [.. moments.Select((m, i) => new ChartTick(Place(m), Label(m, i == 0 ? null : moments[i - 1], moments)))];
            }
        }

        return [new ChartTick(Place(from), from.ToString("yyyy", CultureInfo.InvariantCulture))];
    }

    private static double Place(DateTime moment) => (double)moment.Ticks / TimeSpan.TicksPerDay;

    private static IEnumerable<DateTime> Every(DateTime from, DateTime to, TimeSpan step)
    {
        for (var ticks = (from.Ticks + step.Ticks - 1) / step.Ticks * step.Ticks; ticks <= to.Ticks; ticks += step.Ticks)
        {
            yield return new DateTime(ticks);
        }
    }

    private static IEnumerable<DateTime> Months(DateTime from, DateTime to, int step)
    {
        for (var month = ((from.Year * 12) + from.Month - 1) / step * step; month < 9999 * 12; month += step)
        {
            var first = new DateTime(Math.Max(month / 12, 1), (month % 12) + 1, 1);
            if (first > to)
            {
                yield break;
            }

            if (first >= from)
            {
                yield return first;
            }
        }
    }

    /// <summary>What is new since the label before: the year only where it changes, and at the first.</summary>
    private static string Label(DateTime moment, DateTime? before, List<DateTime> all)
    {
        var format =
            all.Any(m => m.TimeOfDay != TimeSpan.Zero) ? before?.Date == moment.Date ? "HH:mm" : "d MMM HH:mm"
            : all.Any(m => m.Day != 1) || all.Count == 1 ? before?.Year == moment.Year ? "d MMM" : "d MMM yyyy"
            : all.Any(m => m.Month != 1) ? before?.Year == moment.Year ? "MMM" : "MMM yyyy"
            : "yyyy";
        return moment.ToString(format, CultureInfo.InvariantCulture);
    }
}
