using Acquire.Analysis.Judgement;
using Acquire.Analysis.Uncertainty;

namespace TruthBenchmark.Product;

/// <summary>What is said of one parameter of a strip.</summary>
/// <param name="Key">The parameter's key on the sheet.</param>
/// <param name="Colour">0 … 2; null for a spread.</param>
/// <param name="Half">Half-width of the interval at 95 %; null where none is given.</param>
internal sealed record Said(string Key, int? Colour, double Deviation, double? Half, Verdict? Verdict)
{
    public bool Holds(double truth) => Half is { } half && Math.Abs(Deviation - truth) <= half + 1e-12;
}

/// <summary>Deviations, intervals and verdicts.</summary>
internal static class VerdictsSaid
{
    public static ImmutableArray<Said> Of(Desk desk, int strip) => Of(desk.Point(strip).Judgement);

    public static ImmutableArray<Said> Of(StripJudgement judgement) => [.. judgement.Results.Select(Of)];

    /// <summary>What the strip as a whole is called.</summary>
    public static Verdict? Whole(Desk desk, int strip) => desk.Point(strip).Judgement.Verdict;

    private static Said Of(ParameterResult result) => new(
        result.Parameter.Key,
        result.Channel is { } channel ? Channels.Colours.IndexOf(channel) : null,
        result.Deviation!.Value,
        result.Budget is { } budget ? budget.CoverageFactor() * budget.StandardUncertainty : null,
        result.Verdict?.Verdict);
}
