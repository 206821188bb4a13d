namespace Acquire.Analysis.Charts;

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
