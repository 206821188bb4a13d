using Acquire.Analysis.Statistics;

namespace Acquire.Web.Documents;

/// <summary>The same for other programs; the ends of an interval that has none are null.</summary>
internal static class LineJson
{
    public static double[][]? Covariance(LinearModel line) => line.ResidualDeviation is null ? null :
    [
        [line.Covariance([1, 0], [1, 0])!.Value, line.Covariance([1, 0], [0, 1])!.Value],
        [line.Covariance([0, 1], [1, 0])!.Value, line.Covariance([0, 1], [0, 1])!.Value],
    ];

    public static PredictionDocument Of(LinePrediction p) => new()
    {
        X = p.X,
        Value = p.Value,
        MeanError = p.MeanError,
        MeanLower = p.Value - (p.Factor * p.MeanError),
        MeanUpper = p.Value + (p.Factor * p.MeanError),
        SingleError = p.SingleError,
        SingleLower = p.Value - (p.Factor * p.SingleError),
        SingleUpper = p.Value + (p.Factor * p.SingleError),
        IsBeyond = p.IsBeyond,
    };

    public static ReachDocument Of(InversePrediction r) => new()
    {
        Y = r.Y,
        X = Finite(r.OneReading.Estimate),
        Single = Interval(r.OneReading),
        Mean = Interval(r.Mean),
        SingleError = Finite(r.SingleError),
        MeanError = Finite(r.MeanError),
        IsBeyond = r.IsBeyond,
    };

    private static IntervalDocument Interval(RatioInterval interval) => new()
    {
        Kind = interval.Kind.ToString().ToLowerInvariant(),
        Lower = Finite(interval.Lower),
        Upper = Finite(interval.Upper),
        G = Finite(interval.G),
    };

    private static double? Finite(double value) => double.IsFinite(value) ? value : null;
}

internal sealed record PredictionDocument
{
    public required double X { get; init; }
    public required double Value { get; init; }
    public required double MeanError { get; init; }
    public required double MeanLower { get; init; }
    public required double MeanUpper { get; init; }
    public required double SingleError { get; init; }
    public required double SingleLower { get; init; }
    public required double SingleUpper { get; init; }
    public required bool IsBeyond { get; init; }
}

internal sealed record ReachDocument
{
    public required double Y { get; init; }
    public required double? X { get; init; }
    public required IntervalDocument Single { get; init; }
    public required IntervalDocument Mean { get; init; }
    public required double? SingleError { get; init; }
    public required double? MeanError { get; init; }
    public required bool IsBeyond { get; init; }
}

internal sealed record IntervalDocument
{
    public required string Kind { get; init; }
    public required double? Lower { get; init; }
    public required double? Upper { get; init; }
    public required double? G { get; init; }
}
