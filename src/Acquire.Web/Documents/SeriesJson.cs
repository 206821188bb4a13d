using Acquire.Analysis.Control;
using Acquire.Analysis.Statistics;

namespace Acquire.Web.Documents;

/// <summary>
/// The statistics of a series for other programs. Names of properties are a contract; new ones may be added. Indices count from 1.
/// </summary>
internal static class SeriesJson
{
    public static SeriesDocument Of(SeriesStudy study) => new()
    {
        Summary = new SeriesSummaryDocument
        {
            N = study.Summary.Count,
            Mean = study.Summary.Mean,
            S = study.Summary.StandardDeviation,
            Lag1 = study.Lag1,
        },
        Individuals = study.Limits is not { } limits ? null : new IndividualsDocument
        {
            Centre = limits.Centre,
            Sigma = limits.Sigma,
            Lower = limits.Lower,
            Upper = limits.Upper,
            MeanMovingRange = limits.MeanMovingRange,
            MovingRangeUpper = limits.MovingRangeUpper,
            Baseline = limits.Count,
        },
        Rules = new SeriesRulesDocument { WesternElectric = study.WesternElectric.Select(Signal), Nelson = study.Nelson.Select(Signal) },
        Ewma = new SeriesEwmaDocument
        {
            Target = study.Target,
            Sigma = study.Sigma,
            Points = study.Ewma.Select(
                p => new SeriesEwmaPointDocument { Value = p.Value, Lower = p.Lower, Upper = p.Upper, Signal = SideWord(p.Signal) }),
        },
        Cusum = new SeriesCusumDocument
        {
            Target = study.Target,
            Sigma = study.Sigma,
            Points = study.Cusum.Select(
                p => new SeriesCusumPointDocument { High = p.High, Low = p.Low, Signal = SideWord(p.Signal), Began = p.Began + 1 }),
        },
        ChangePoint = study.ChangePoint is not { } change ? null : new SeriesChangePointDocument
        {
            Index = change.Index + 1,
            Earliest = change.Earliest + 1,
            Latest = change.Latest + 1,
            Before = change.Before,
            After = change.After,
            Step = change.Step,
            P = change.P,
        },
        Regression = study.Line is { } line ? Line(line) : null,
        AnalysisOfVariance = study.Groups is { } groups ? Groups(groups) : null,
        Subgroups = study.Subgroups is { } chart ? Chart(chart) : null,
        Sigmas = study.Sigmas,
        CovarianceOfCoefficients = study.Line is null ? null : LineJson.Covariance(study.Line),
        Predictions = study.Predictions.Select(LineJson.Of),
        Reaches = study.Reaches.Select(LineJson.Of),
    };

    private static RunSignalDocument Signal(RunSignal signal) =>
        new() { Rule = signal.Rule, First = signal.First + 1, Last = signal.Index + 1, Side = SideWord(signal.Side) };

    private static RegressionDocument Line(LinearModel line) => new()
    {
        Intercept = line.Coefficients[0],
        InterceptError = line.StandardError(0),
        Slope = line.Coefficients[1],
        SlopeError = line.StandardError(1),
        SlopeP = line.PValue(1),
        ResidualDeviation = line.ResidualDeviation,
        RSquared = line.RSquared,
        Regression = Row(line.Explained),
        Residual = Row(line.Residual),
        F = Finite(line.F),
        P = line.P,
    };

    private static VarianceDocument Groups(OneWay groups) => new()
    {
        Between = Row(groups.Between),
        Within = Row(groups.Within),
        F = groups.F,
        P = groups.P,
        RSquared = groups.Total.SumOfSquares > 0 ? groups.Between.SumOfSquares / groups.Total.SumOfSquares : (double?)null,
        ResidualDeviation = groups.Within.MeanSquare is { } square ? Math.Sqrt(square) : (double?)null,
        VarianceWithin = groups.Components?.Within,
        VarianceBetween = groups.Components?.Between,
    };

    private static SubgroupsDocument Chart(SubgroupChart chart) => new()
    {
        Centre = chart.Centre,
        Sigma = chart.Sigma,
        Lower = chart.Lower,
        Upper = chart.Upper,
        MeanRange = chart.MeanScatter,
        RangeUpper = chart.ScatterUpper,
        Size = chart.Size,
        Means = chart.Means,
        Nelson = RunSignal.Find(chart.Standardized, RunRuleSets.Nelson).Select(Signal),
        WesternElectric = RunSignal.Find(chart.Standardized, RunRuleSets.WesternElectric).Select(Signal),
    };

    private static SquaresDocument Row(SquaresRow row) =>
        new() { SumOfSquares = row.SumOfSquares, DegreesOfFreedom = row.DegreesOfFreedom, MeanSquare = row.MeanSquare };

    // JSON has no infinity; an exact fit shows in a residual of 0.
    private static double? Finite(double? value) => value is { } v && double.IsFinite(v) ? v : null;

    private static string? SideWord(Side side) => side switch { Side.High => "high", Side.Low => "low", _ => null };
}

internal sealed record SeriesDocument
{
    public required SeriesSummaryDocument Summary { get; init; }
    public required IndividualsDocument? Individuals { get; init; }
    public required SeriesRulesDocument Rules { get; init; }
    public required SeriesEwmaDocument Ewma { get; init; }
    public required SeriesCusumDocument Cusum { get; init; }
    public required SeriesChangePointDocument? ChangePoint { get; init; }
    public required RegressionDocument? Regression { get; init; }
    public required VarianceDocument? AnalysisOfVariance { get; init; }
    public required SubgroupsDocument? Subgroups { get; init; }
    public required SigmaEstimates Sigmas { get; init; }
    public required double[][]? CovarianceOfCoefficients { get; init; }
    public required IEnumerable<PredictionDocument> Predictions { get; init; }
    public required IEnumerable<ReachDocument> Reaches { get; init; }
}

internal sealed record SeriesSummaryDocument
{
    public required int N { get; init; }
    public required double Mean { get; init; }
    public required double? S { get; init; }
    public required double? Lag1 { get; init; }
}

internal sealed record IndividualsDocument
{
    public required double Centre { get; init; }
    public required double Sigma { get; init; }
    public required double Lower { get; init; }
    public required double Upper { get; init; }
    public required double MeanMovingRange { get; init; }
    public required double MovingRangeUpper { get; init; }
    public required int Baseline { get; init; }
}

internal sealed record SeriesRulesDocument
{
    public required IEnumerable<RunSignalDocument> WesternElectric { get; init; }
    public required IEnumerable<RunSignalDocument> Nelson { get; init; }
}

internal sealed record SeriesEwmaDocument
{
    public required double Target { get; init; }
    public required double? Sigma { get; init; }
    public required IEnumerable<SeriesEwmaPointDocument> Points { get; init; }
}

internal sealed record SeriesEwmaPointDocument
{
    public required double Value { get; init; }
    public required double Lower { get; init; }
    public required double Upper { get; init; }
    public required string? Signal { get; init; }
}

internal sealed record SeriesCusumDocument
{
    public required double Target { get; init; }
    public required double? Sigma { get; init; }
    public required IEnumerable<SeriesCusumPointDocument> Points { get; init; }
}

internal sealed record SeriesCusumPointDocument
{
    public required double High { get; init; }
    public required double Low { get; init; }
    public required string? Signal { get; init; }
    public required int? Began { get; init; }
}

internal sealed record SeriesChangePointDocument
{
    public required int Index { get; init; }
    public required int Earliest { get; init; }
    public required int Latest { get; init; }
    public required double Before { get; init; }
    public required double After { get; init; }
    public required double Step { get; init; }
    public required double P { get; init; }
}

internal sealed record RunSignalDocument
{
    public required RunRule Rule { get; init; }
    public required int First { get; init; }
    public required int Last { get; init; }
    public required string? Side { get; init; }
}

internal sealed record RegressionDocument
{
    public required double Intercept { get; init; }
    public required double? InterceptError { get; init; }
    public required double Slope { get; init; }
    public required double? SlopeError { get; init; }
    public required double? SlopeP { get; init; }
    public required double? ResidualDeviation { get; init; }
    public required double RSquared { get; init; }
    public required SquaresDocument Regression { get; init; }
    public required SquaresDocument Residual { get; init; }
    public required double? F { get; init; }
    public required double? P { get; init; }
}

internal sealed record VarianceDocument
{
    public required SquaresDocument Between { get; init; }
    public required SquaresDocument Within { get; init; }
    public required double? F { get; init; }
    public required double? P { get; init; }
    public required double? RSquared { get; init; }
    public required double? ResidualDeviation { get; init; }
    public required double? VarianceWithin { get; init; }
    public required double? VarianceBetween { get; init; }
}

internal sealed record SubgroupsDocument
{
    public required double Centre { get; init; }
    public required double Sigma { get; init; }
    public required double Lower { get; init; }
    public required double Upper { get; init; }
    public required double MeanRange { get; init; }
    public required double RangeUpper { get; init; }
    public required int Size { get; init; }
    public required ImmutableArray<double> Means { get; init; }
    public required IEnumerable<RunSignalDocument> Nelson { get; init; }
    public required IEnumerable<RunSignalDocument> WesternElectric { get; init; }
}

internal sealed record SquaresDocument
{
    public required double SumOfSquares { get; init; }
    public required int DegreesOfFreedom { get; init; }
    public required double? MeanSquare { get; init; }
}
