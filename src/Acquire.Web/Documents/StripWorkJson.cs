using Acquire.Analysis.Judgement;
using Acquire.Analysis.StripWork;
using Acquire.Analysis.Uncertainty;
using Acquire.Bench.Strips;

namespace Acquire.Web.Documents;

/// <summary>A second strip held against the first, and a strip held against its own earlier reading.</summary>
internal static class StripWorkJson
{
    public static SecondStripDocument? Of(SecondStrip? pair) =>
        pair is null ? null : new SecondStripDocument { Verdict = pair.Verdict, Words = pair.Words(), Changes = Of(pair.Changes) };

    public static SecondReadingDocument? Of(SecondReading? again) => again is null ? null : new SecondReadingDocument
    {
        Treatment = again.Treatment.Word(),
        CameBack = again.CameBack.Select(c => c.First.Label),
        Stayed = again.Stayed.Select(c => c.First.Label),
        Words = again.Words(),
        Changes = Of(again.Changes),
    };

    private static IEnumerable<ParameterChangeDocument> Of(
        ImmutableArray<ParameterChange> changes) => changes.Select(c => new ParameterChangeDocument
    {
        Key = c.First.Parameter.Key,
        Label = c.First.Label,
        First = c.First.Deviation,
        FirstZone = c.First.Zone,
        Second = c.Second.Deviation,
        SecondZone = c.Second.Zone,
        Change = c.Change,
        Uncertainty = c.StandardUncertainty,
        IsReal = c.IsReal,
    });
}

/// <summary>Strips that ran at one state of the process, taken together.</summary>
internal static class StripsTogetherJson
{
    public static StripsTogetherDocument Of(StripsTogether together) => new()
    {
        Strips = together.Strips.Select(s => s.Id),
        Parameters = Of(together.Results),
    };

    private static IEnumerable<CombinedParameterDocument> Of(
        ImmutableArray<CombinedResult> results) => results.Select(r => new CombinedParameterDocument
    {
        Key = r.Parameter.Key,
        Name = r.Parameter.Name,
        Channel = r.Channel?.Word(),
        Deviations = r.Deviations,
        Mean = r.Mean,
        Uncertainty = r.Budget.StandardUncertainty,
        RestsOnAssumed = AssumptionLine.Code(r.RestsOnAssumption),
        RunScatter = r.RunScatter,
        ReadingScatter = r.ReadingScatter,
        Verdict = (r.Verdict?.Verdict).Code(),
        ProbabilityInside = r.Verdict?.ProbabilityInside,
    });
}

internal sealed record SecondStripDocument
{
    public required SecondStripVerdict Verdict { get; init; }
    public required string Words { get; init; }
    public required IEnumerable<ParameterChangeDocument> Changes { get; init; }
}

internal sealed record SecondReadingDocument
{
    public required string Treatment { get; init; }
    public required IEnumerable<string> CameBack { get; init; }
    public required IEnumerable<string> Stayed { get; init; }
    public required IEnumerable<string> Words { get; init; }
    public required IEnumerable<ParameterChangeDocument> Changes { get; init; }
}

internal sealed record ParameterChangeDocument
{
    public required string Key { get; init; }
    public required string Label { get; init; }
    public required double? First { get; init; }
    public required Zone? FirstZone { get; init; }
    public required double? Second { get; init; }
    public required Zone? SecondZone { get; init; }
    public required double? Change { get; init; }
    public required double? Uncertainty { get; init; }
    public required bool? IsReal { get; init; }
}

internal sealed record StripsTogetherDocument
{
    public required IEnumerable<Guid> Strips { get; init; }
    public required IEnumerable<CombinedParameterDocument> Parameters { get; init; }
}

internal sealed record CombinedParameterDocument
{
    public required string Key { get; init; }
    public required string Name { get; init; }
    public required string? Channel { get; init; }
    public required ImmutableArray<double> Deviations { get; init; }
    public required double Mean { get; init; }
    public required double Uncertainty { get; init; }
    public required string? RestsOnAssumed { get; init; }
    public required double RunScatter { get; init; }
    public required double ReadingScatter { get; init; }
    public required string? Verdict { get; init; }
    public required double? ProbabilityInside { get; init; }
}
