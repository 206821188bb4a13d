using Acquire.Analysis.Gauge;
using Acquire.Analysis.Statistics;

namespace Acquire.Web.Documents;

/// <summary>
/// The same for other programs. Names of properties are a contract; new ones may be added. All in the unit of the readings.
/// </summary>
internal static class CrossedJson
{
    public static CrossedDocument Of(CrossedStudy study) => new()
    {
        Passed = study.Passes,
        Factors = study.Data.Factors,
        Levels = study.Data.Factors.ToDictionary(f => f, study.Data.LevelsOf),
        Reads = study.Data.Reads.Length,
        Channels = study.Channels.ToDictionary(c => c.Channel.Word(), c => Channel(study, c)),
        Notes = study.Notes,
    };

    private static CrossedChannelDocument Channel(CrossedStudy study, CrossedChannel channel) => new()
    {
        Parts = channel.Parts.Select(p => new CrossedChannelPartDocument
        {
            Name = p.Name,
            Kind = p.Kind.ToString().ToLowerInvariant(),
            S = p.Sigma,
            SLow = p.Low,
            SHigh = p.High,
            Variance = p.Variance,
            ShareOfVariation = p.ShareOfVariation,
            ShareOfVariationLow = p.ShareInterval?.Low,
            ShareOfVariationHigh = p.ShareInterval?.High,
            ShareOfTolerance = p.ShareOfTolerance,
        }),
        DistinctCategories = channel.DistinctCategories,
        DistinctCategoriesLow = channel.Categories?.Low,
        DistinctCategoriesHigh = channel.Categories?.High,
        WithInteraction = Variance(study, channel.Full),
        WithoutInteraction = Variance(study, channel.Additive),
        Used = Variance(study, channel.Used),
        Specification = channel.Specification.Sigma,
        ChiSquare = channel.Specification.ChiSquare,
        Critical = channel.Specification.Critical,
        P = channel.Specification.P,
        Passed = channel.Specification.Passes,
        Resolution = channel.Step,
        Limits = channel.Limits.Select(l => new CrossedChannelLimitDocument
        {
            Key = l.Parameter.Key,
            Name = l.Parameter.Name,
            Kind = l.IsControl ? "control" : "action",
            Lower = l.Limit.Lower,
            Upper = l.Limit.Upper,
            S = l.Sigma,
            Share = l.Share,
        }),
    };

    private static CrossedVarianceDocument Variance(CrossedStudy study, CrossedVariance variance) => new()
    {
        Effects = variance.Effects.Select(e => new CrossedVarianceEffectDocument
        {
            Name = CrossedChannel.Name(study.Data, e),
            SumOfSquares = e.Row.SumOfSquares,
            DegreesOfFreedom = e.Row.DegreesOfFreedom,
            MeanSquare = e.Row.MeanSquare,
            F = e.F,
            P = e.P,
            Component = e.Component.Value,
        }),
        Residual = new SquaresDocument
        {
            SumOfSquares = variance.Residual.SumOfSquares,
            DegreesOfFreedom = variance.Residual.DegreesOfFreedom,
            MeanSquare = variance.Residual.MeanSquare,
        },
    };
}

internal sealed record CrossedDocument
{
    public required bool Passed { get; init; }
    public required ImmutableArray<string> Factors { get; init; }
    public required Dictionary<string, int> Levels { get; init; }
    public required int Reads { get; init; }
    public required Dictionary<string, CrossedChannelDocument> Channels { get; init; }
    public required ImmutableArray<string> Notes { get; init; }
}

internal sealed record CrossedChannelDocument
{
    public required IEnumerable<CrossedChannelPartDocument> Parts { get; init; }
    public required int? DistinctCategories { get; init; }
    public required int? DistinctCategoriesLow { get; init; }
    public required int? DistinctCategoriesHigh { get; init; }
    public required CrossedVarianceDocument WithInteraction { get; init; }
    public required CrossedVarianceDocument WithoutInteraction { get; init; }
    public required CrossedVarianceDocument Used { get; init; }
    public required double Specification { get; init; }
    public required double ChiSquare { get; init; }
    public required double Critical { get; init; }
    public required double P { get; init; }
    public required bool Passed { get; init; }
    public required double Resolution { get; init; }
    public required IEnumerable<CrossedChannelLimitDocument> Limits { get; init; }
}

internal sealed record CrossedChannelPartDocument
{
    public required string Name { get; init; }
    public required string Kind { get; init; }
    public required double S { get; init; }
    public required double SLow { get; init; }
    public required double SHigh { get; init; }
    public required double Variance { get; init; }
    public required double? ShareOfVariation { get; init; }
    public required double? ShareOfVariationLow { get; init; }
    public required double? ShareOfVariationHigh { get; init; }
    public required double? ShareOfTolerance { get; init; }
}

internal sealed record CrossedChannelLimitDocument
{
    public required string Key { get; init; }
    public required string Name { get; init; }
    public required string Kind { get; init; }
    public required double? Lower { get; init; }
    public required double? Upper { get; init; }
    public required double S { get; init; }
    public required double Share { get; init; }
}

internal sealed record CrossedVarianceDocument
{
    public required IEnumerable<CrossedVarianceEffectDocument> Effects { get; init; }
    public required SquaresDocument Residual { get; init; }
}

internal sealed record CrossedVarianceEffectDocument
{
    public required string Name { get; init; }
    public required double SumOfSquares { get; init; }
    public required int DegreesOfFreedom { get; init; }
    public required double? MeanSquare { get; init; }
    public required double? F { get; init; }
    public required double? P { get; init; }
    public required double Component { get; init; }
}
