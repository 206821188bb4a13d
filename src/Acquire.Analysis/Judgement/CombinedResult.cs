using Acquire.Analysis.Gauge;
using Acquire.Analysis.Statistics;
using Acquire.Analysis.Uncertainty;

namespace Acquire.Analysis.Judgement;

/// <summary>One parameter and channel of several strips that ran at one state of the process. In the unit of the parameter.</summary>
public sealed record CombinedResult
{
    public required Parameter Parameter { get; init; }

    public required Channel? Channel { get; init; }

    /// <summary>Deviation of each strip, in order.</summary>
    public required ImmutableArray<double> Deviations { get; init; }

    public required double Mean { get; init; }

    /// <summary>Standard deviation from strip to strip, beyond what reading makes of it; 0 when reading explains it.</summary>
    public required double RunScatter { get; init; }

    /// <summary>Standard deviation of one strip's deviation by reading alone.</summary>
    public required double ReadingScatter { get; init; }

    /// <summary>What the mean may be wrong by.</summary>
    public required Budget Budget { get; init; }

    /// <summary>What of that rests on an assumption, and not on what was seen of the instrument.</summary>
    public Assumed RestsOnAssumption => AssumptionLine.In(Budget);

    /// <summary>The verdict on the process at that state; null without a limit.</summary>
    public required VerdictResult? Verdict { get; init; }

    /// <summary>Combines strips. Strip-to-strip scatter is estimated from the strips themselves and kept apart from reading scatter; what
    /// strips share, as the aim's error, is not averaged away.</summary>
    /// <param name="strips">Judgements by the same aims and limits, two at least.</param>
    /// <param name="level">Probability that a verdict asks for.</param>
    /// <returns>One result for each parameter and channel that all the strips
    /// have; spreads over the colours are left to each strip.</returns>
    public static ImmutableArray<CombinedResult> Of(IReadOnlyList<StripJudgement> strips, double level = Verdicts.UsualLevel)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(strips.Count, 2);
        return
        [
            .. from first in strips[0].Results
               where first.Parameter.HasSign && first.Deviation is not null
               let all = strips.Select(s =>
                   s.Results.FirstOrDefault(r => r.Parameter.Key == first.Parameter.Key && r.Channel == first.Channel)).ToImmutableArray()
               where all.All(r => r is { Deviation: not null, Budget: not null })
               select Of([.. all.Select(r => r!)], level),
        ];
    }

    private static CombinedResult Of(ImmutableArray<ParameterResult> results, double level)
    {
        var (first, count) = (results[0], results.Length);
        var summary = Summary.Of([.. results.Select(r => r.Deviation!.Value)]);
        var reading = results.Average(r => r.ReadingUncertainty!.Value * r.ReadingUncertainty!.Value);
        var between = summary.StandardDeviation!.Value * summary.StandardDeviation.Value;

        // Where strips scatter less than reading alone would have it, reading rules, and with its own degrees of freedom.
        var reads = results.Select(r => r.Budget!.Components.First(c => c.Of == Doubt.Reads)).MinBy(c => c.DegreesOfFreedom)!;
        var scatter = between > reading
            ? new Component("scatter from strip to strip, reading included", Math.Sqrt(between / count), count - 1)
            : reads with
            {
                Name = reads.IsAssumed ? "reading of the strips, assumed" : "reading of the strips",
                Contribution = Math.Sqrt(reading / count),
            };
        // Aim and zero are the same for all the strips, so no number of strips averages them out.
        var budget = new Budget([scatter, .. first.Budget!.Components.Where(c => c.Of is Doubt.Reference or Doubt.Zero)]);
        var limit = first.Limits.Control ?? first.Limits.Action;
        return new CombinedResult
        {
            Parameter = first.Parameter,
            Channel = first.Channel,
            Deviations = [.. results.Select(r => r.Deviation!.Value)],
            Mean = Comparison.Clean(summary.Mean),
            RunScatter = Math.Sqrt(Math.Max(0, between - reading)),
            ReadingScatter = Math.Sqrt(reading),
            Budget = budget,
            Verdict = limit is null ? null : VerdictRule.OfMean(first.Limits, limit, summary.Mean, budget, level),
        };
    }
}
