using Acquire.Analysis.Control;

namespace Acquire.Rendering.Series;

/// <summary>The statistics of a series for people, in six significant digits.</summary>
internal static class SeriesText
{
    public static void Write(IAnsiConsole console, SeriesStudy study)
    {
        console.Line($"n {study.Summary.Count}, mean {Six(study.Summary.Mean)}, s {Six(study.Summary.StandardDeviation)}, lag-1 "
            + $"autocorrelation {Six(study.Lag1)}"
            + (study.Lag1 is { } lag && Autocorrelation.IsMoreThanChance(lag, study.Summary.Count)
                ? ", more than chance: run rules ring too often or too seldom"
                : ""));
        if (study.Limits is { } limits)
        {
            console.Line(
                $"Natural limits {Six(limits.Lower)} … {Six(limits.Upper)}, centre {Six(limits.Centre)}, sigma {Six(limits.Sigma)} "
                + $"from the mean moving range {Six(limits.MeanMovingRange)} of {Numbers.Count(limits.Count, "value")}; "
                + $"moving range up to {Six(limits.MovingRangeUpper)}");
        }

        WriteSignals(console, "Western Electric", study.WesternElectric);
        WriteSignals(console, "Nelson", study.Nelson);
        WriteDetectors(console, study);
        WriteModels(console, study);
        console.Lines(LineText.Of(study));
    }

    private static void WriteSignals(IAnsiConsole console, string set, IReadOnlyCollection<RunSignal> signals)
    {
        console.Line(signals.Count == 0
            ? $"{set} rules: none broken"
            : $"{set} rules: " + string.Join(
                "; ", signals.GroupBy(s => s.Rule).Select(g => $"{g.Key.Word()} at {string.Join(", ", g.Select(s => s.Index + 1))}")));
    }

    private static void WriteDetectors(IAnsiConsole console, SeriesStudy study)
    {
        var average = study.Ewma.Where(p => p.Signal != Side.Neither).Select(p => p.Count).ToList();
        var sums = study.Cusum.Where(p => p.Signal != Side.Neither).ToList();
        console.Line($"Moving average (EWMA): {(study.Ewma is [.., var last] ? $"last {Six(last.Value)}, "
            + $"limits {Six(last.Lower)} … {Six(last.Upper)}, " : "")}{Past(average)}");
        console.Line($"Cumulative sums (CUSUM): {Past([.. sums.Select(p => p.Count)])}"
            + (sums is [var first, ..]
                ? $"; the shift seems to begin at {(first.Began + 1)?.ToString(CultureInfo.InvariantCulture)}"
                : ""));
        if (study.ChangePoint is { } change)
        {
            console.Line(string.Create(
                CultureInfo.InvariantCulture,
                $"Most probable step: {Six(change.Step)} at {change.Index + 1} (95 % within {change.Earliest + 1} … "
                + $"{change.Latest + 1}), P {change.P:0.####}"));
        }
    }

    private static void WriteModels(IAnsiConsole console, SeriesStudy study)
    {
        if (study.Line is { } line)
        {
            console.Line($"Line: intercept {Six(line.Coefficients[0])} ({Six(line.StandardError(0))}), slope "
                + $"{Six(line.Coefficients[1])} ({Six(line.StandardError(1))}), "
                + $"residual s {Six(line.ResidualDeviation)}, R² {Six(line.RSquared)}, F {Six(line.F)}");
        }

        if (study.Groups is { } groups)
        {
            console.Line($"Between groups: SS {Six(groups.Between.SumOfSquares)} (ν "
                + $"{groups.Between.DegreesOfFreedom.ToString(CultureInfo.InvariantCulture)}), "
                + $"within SS {Six(groups.Within.SumOfSquares)} (ν "
                    + $"{groups.Within.DegreesOfFreedom.ToString(CultureInfo.InvariantCulture)}), F {Six(groups.F)}, P {Six(groups.P)}");
        }

        if (study.Subgroups is { } chart)
        {
            console.Line($"Group means: limits {Six(chart.Lower)} … {Six(chart.Upper)}, sigma {Six(chart.Sigma)} from the mean range "
                + $"{Six(chart.MeanScatter)}");
        }
    }

    private static string Past(List<int> at) => at.Count == 0 ? "no signal" : $"past its limit at {string.Join(", ", at)}";

    private static string Six(double? value) => value is { } v ? v.ToString("G6", CultureInfo.InvariantCulture) : "none";
}
