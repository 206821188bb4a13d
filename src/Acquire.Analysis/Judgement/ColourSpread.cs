using Acquire.Analysis.Statistics;
using Acquire.Analysis.Uncertainty;

namespace Acquire.Analysis.Judgement;

/// <summary>The colour spread of a parameter: the largest minus the smallest of its three deviations from aim.</summary>
internal static class ColourSpread
{
    private static readonly double MeanRangeOfThree = NormalRange.D2(3);

    /// <summary>To first order the spread's variance is that of its two ends, u² = u²(largest) + u²(smallest). Near a spread of 0, where
    /// reading noise alone makes one, it is no more than a guide; <see cref="SpreadResult.FromReadingNoise"/> tells how near.</summary>
    public static ParameterResult Of(SpreadParameter parameter, IEnumerable<ParameterResult> results)
    {
        var colours = Channels.Colours.Select(c => results.FirstOrDefault(r => r.Channel == c)).ToImmutableArray();
        return colours is [{ Deviation: { } red }, { Deviation: { } green }, { Deviation: { } blue }]
            ? Of(parameter, [.. colours.Select(c => c!)], red, green, blue)
            : new Comparison(null, 0, null, [], WhyMissing(parameter, colours)).ToResult(parameter, null) with
            {
                OnStrip = colours.All(c => c is null or { OnStrip: true }),
            };
    }

    private static ParameterResult Of(
        SpreadParameter parameter, ImmutableArray<ParameterResult> colours, double red, double green, double blue)
    {
        var (highest, lowest) = (colours.MaxBy(c => c.Deviation)!, colours.MinBy(c => c.Deviation)!);
        var noise = MeanRangeOfThree * Math.Sqrt(colours.Average(Square));
        // Which colours are the ends is known only from the reads, so the spread rests on the reads of all three.
        var restsOn = colours.SelectMany(c => c.RestsOn).ToImmutableArray();
        return new Comparison(
            highest.Deviation - lowest.Deviation, 0,
            new ErrorParts(
                Part(highest, Doubt.Reads) + Part(lowest, Doubt.Reads), Step(highest) + Step(lowest),
                Part(highest, Doubt.Reference) + Part(lowest, Doubt.Reference), 0, Least(highest) + Least(lowest)),
            restsOn, null).ToResult(parameter, null) with
        {
            Spread = new SpreadResult(Comparison.Clean(red - green), Comparison.Clean(blue - green), noise)
            {
                Colours = [.. colours.Select(c => (c.Deviation!.Value, VerdictRule.Widened(c.Budget!)))],
            },
        };
    }

    /// <summary>An error of zero is the same in the three colours, so it is no part of a spread.</summary>
    private static double Square(ParameterResult result) =>
        result.Budget!.Components.Where(c => c.Of != Doubt.Zero).Sum(c => c.Contribution * c.Contribution);

    private static ErrorPart Part(ParameterResult result, Doubt of) => result.Budget!.Components.Where(c => c.Of == of)
        .Select(c => new ErrorPart(c.Contribution * c.Contribution, c.DegreesOfFreedom, c.Estimate, c.IsAssumed)).FirstOrDefault();

    private static double Least(ParameterResult result) => Math.Pow(result.LeastReadingUncertainty ?? 0, 2);

    private static double Step(ParameterResult result) => Part(result, Doubt.Step).Variance;

    private static string WhyMissing(SpreadParameter parameter, ImmutableArray<ParameterResult?> colours)
    {
        var reason = colours.FirstOrDefault(c => c is { Deviation: null })?.WhyMissing;
        return $"{parameter.Name} needs the deviations of '{parameter.OfKey}' in red, green and blue. {reason}".TrimEnd();
    }
}

/// <summary>How the colours lie to each other. Published definitions of colour spread differ; the spread here is the largest minus the
/// smallest of the three deviations, and the differences against green are given beside it. All are densities.</summary>
/// <param name="RedMinusGreen">Deviation in red minus deviation in green.</param>
/// <param name="BlueMinusGreen">Deviation in blue minus deviation in green.</param>
/// <param name="FromReadingNoise">The mean spread that a perfect process would show by the uncertainty of the deviations alone: d2(3) =
/// 1.693 times the root mean square of the three standard uncertainties, taken as independent.</param>
public sealed record SpreadResult(double RedMinusGreen, double BlueMinusGreen, double FromReadingNoise)
{
    /// <summary>Deviation and standard uncertainty of red, green and blue, widened where the uncertainty is known by few reads.</summary>
    internal ImmutableArray<(double Deviation, double Uncertainty)> Colours { get; init; } = [];

    /// <summary>The true spread without the bias of the range, and its interval; null when it was not made of three colours. It takes some
    /// milliseconds, so it is not made for every strip of a list.</summary>
    public (double Estimate, double Low, double High)? Estimate(double confidence = 0.95) => Colours.Length != 3 ? null
        : new SpreadInference([.. Colours.Select(c => c.Deviation)], [.. Colours.Select(c => c.Uncertainty)]).Estimate(confidence);
}
