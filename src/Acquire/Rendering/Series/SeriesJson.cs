using Acquire.Analysis.Control;
using Acquire.Analysis.Statistics;

namespace Acquire.Rendering.Series;

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
