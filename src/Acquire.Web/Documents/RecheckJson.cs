using Acquire.Bench.Trust;

namespace Acquire.Web.Documents;

/// <summary>The reference strip as a check standard, for other programs.</summary>
internal static class RecheckJson
{
    public static RecheckDocument Of(RecheckReview review) => new()
    {
        BeginsWith = review.BeginsWith,
        Holds = review.Holds,
        Outside = review.Outside,
        LeftByChance = review.LeftByChance,
        Series = review.Series.Select(s => new RecheckSeriesDocument
        {
            Patch = s.Patch,
            Channel = s.Channel.Word(),
            Moved = RecheckReview.Moved(s),
            Centre = s.Chart.Centre,
            Lower = s.Chart.Lower,
            Upper = s.Chart.Upper,
            Baseline = s.Chart.Baseline,
            Occasions = s.Chart.Points.Select(p => new RecheckOccasionDocument
            {
                Label = p.Occasion.Label,
                Mean = p.Occasion.Mean,
                StandardDeviation = p.Occasion.StandardDeviation,
                Reads = p.Occasion.Reads,
                MeanOutside = p.MeanOutside,
                ScatterOutside = p.ScatterOutside,
            }),
        }),
    };
}

internal sealed record RecheckDocument
{
    public required string? BeginsWith { get; init; }
    public required bool Holds { get; init; }
    public required int Outside { get; init; }
    public required int LeftByChance { get; init; }
    public required IEnumerable<RecheckSeriesDocument> Series { get; init; }
}

internal sealed record RecheckSeriesDocument
{
    public required string Patch { get; init; }
    public required string Channel { get; init; }
    public required double Moved { get; init; }
    public required double Centre { get; init; }
    public required double Lower { get; init; }
    public required double Upper { get; init; }
    public required int Baseline { get; init; }
    public required IEnumerable<RecheckOccasionDocument> Occasions { get; init; }
}

internal sealed record RecheckOccasionDocument
{
    public required string Label { get; init; }
    public required double Mean { get; init; }
    public required double? StandardDeviation { get; init; }
    public required int Reads { get; init; }
    public required bool MeanOutside { get; init; }
    public required bool ScatterOutside { get; init; }
}
