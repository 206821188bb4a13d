using Acquire.Analysis.Control;
using Acquire.Analysis.Statistics;

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

/// <summary>
/// The statistics of a series for other programs. Names of properties are a contract; new ones may be added. Indices count from 1.
/// </summary>
internal static class SeriesJson
{
    public static object Of(SeriesStudy study) => new
    {
        Summary = new { N = study.Summary.Count, study.Summary.Mean, S = study.Summary.StandardDeviation, study.Lag1 },
        Individuals = study.Limits is not { } limits ? null : new
        {
            limits.Centre, limits.Sigma, limits.Lower, limits.Upper, limits.MeanMovingRange, limits.MovingRangeUpper,
            Baseline = limits.Count,
        },
        Rules = new { WesternElectric = study.WesternElectric.Select(Signal), Nelson = study.Nelson.Select(Signal) },
        Ewma = new
        {
            study.Target,
            study.Sigma,
            Points = study.Ewma.Select(p => new { p.Value, p.Lower, p.Upper, Signal = SideWord(p.Signal) }),
        },
        Cusum = new
        {
            study.Target,
            study.Sigma,
            Points = study.Cusum.Select(p => new { p.High, p.Low, Signal = SideWord(p.Signal), Began = p.Began + 1 }),
        },
        ChangePoint = study.ChangePoint is not { } change ? null : new
        {
            Index = change.Index
                + 1, Earliest = change.Earliest + 1, Latest = change.Latest + 1, change.Before, change.After, change.Step, change.P,
        },
        Regression = study.Line is { } line ? Line(line) : null,
        AnalysisOfVariance = study.Groups is { } groups ? Groups(groups) : null,
        Subgroups = study.Subgroups is { } chart ? Chart(chart) : null,
        study.Sigmas,
        CovarianceOfCoefficients = study.Line is null ? null : LineJson.Covariance(study.Line),
        Predictions = study.Predictions.Select(LineJson.Of),
        Reaches = study.Reaches.Select(LineJson.Of),
    };

    private static object Signal(RunSignal signal) =>
        new { signal.Rule, First = signal.First + 1, Last = signal.Index + 1, Side = SideWord(signal.Side) };

    private static object Line(LinearModel line) => new
    {
        Intercept = line.Coefficients[0],
        InterceptError = line.StandardError(0),
        Slope = line.Coefficients[1],
        SlopeError = line.StandardError(1),
        SlopeP = line.PValue(1),
        line.ResidualDeviation,
        line.RSquared,
        Regression = Row(line.Explained),
        Residual = Row(line.Residual),
        F = Finite(line.F),
        line.P,
    };

    private static object Groups(OneWay groups) => new
    {
        Between = Row(groups.Between),
        Within = Row(groups.Within),
        groups.F,
        groups.P,
        RSquared = groups.Total.SumOfSquares > 0 ? groups.Between.SumOfSquares / groups.Total.SumOfSquares : (double?)null,
        ResidualDeviation = groups.Within.MeanSquare is { } square ? Math.Sqrt(square) : (double?)null,
        VarianceWithin = groups.Components?.Within,
        VarianceBetween = groups.Components?.Between,
    };

    private static object Chart(SubgroupChart chart) => new
    {
        chart.Centre,
        chart.Sigma,
        chart.Lower,
        chart.Upper,
        MeanRange = chart.MeanScatter,
        RangeUpper = chart.ScatterUpper,
        chart.Size,
        chart.Means,
        Nelson = RunSignal.Find(chart.Standardized, RunRuleSets.Nelson).Select(Signal),
        WesternElectric = RunSignal.Find(chart.Standardized, RunRuleSets.WesternElectric).Select(Signal),
    };

    private static object Row(SquaresRow row) => new { row.SumOfSquares, row.DegreesOfFreedom, row.MeanSquare };

    // JSON has no infinity; an exact fit shows in a residual of 0.
    private static double? Finite(double? value) => value is { } v && double.IsFinite(v) ? v : null;

    private static string? SideWord(Side side) => side switch { Side.High => "high", Side.Low => "low", _ => null };
}
