using Acquire.Analysis.Judgement;
using Acquire.Analysis.Uncertainty;

namespace TruthBenchmark.Product;

/// <summary>What is said of one parameter of a strip.</summary>
/// <param name="Key">The parameter's key on the sheet.</param>
/// <param name="Colour">0 … 2; null for a spread.</param>
/// <param name="Interval">The estimate, of a spread the one without the range's bias, and the ends of its interval at 95 %; that of a
/// spread is dear, so it is made when asked for.</param>
internal sealed record Said(string Key, int? Colour, Lazy<(double Estimate, double Low, double High)> Interval, Verdict? Verdict)
{
    public double Deviation => Interval.Value.Estimate;

    /// <summary>Whether the same is said: number for number, as far as arithmetic in another order goes.</summary>
    public bool IsAs(Said other) =>
        (Key, Colour, Verdict) == (other.Key, other.Colour, other.Verdict)
        && Near(Interval.Value.Estimate, other.Interval.Value.Estimate)
        && Near(Interval.Value.Low, other.Interval.Value.Low) && Near(Interval.Value.High, other.Interval.Value.High);

    private static bool Near(double left, double right) => Math.Abs(left - right) < 1e-9;

    public bool Holds(double truth) => truth >= Interval.Value.Low - 1e-12 && truth <= Interval.Value.High + 1e-12;
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
        new(() => result.Spread?.Estimate()
            ?? Around(result.Deviation!.Value, result.Budget!.CoverageFactor() * result.Budget.StandardUncertainty)),
        result.Verdict?.Verdict);

    private static (double Estimate, double Low, double High) Around(double value, double half) => (value, value - half, value + half);
}
