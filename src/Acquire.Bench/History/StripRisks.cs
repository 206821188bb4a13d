using Acquire.Analysis.Control;
using Acquire.Analysis.Judgement;
using Acquire.Analysis.Statistics;
using Acquire.Analysis.Uncertainty;
using Acquire.Bench.Strips;
using Acquire.Storage.Records;

namespace Acquire.Bench.History;

/// <summary>What the rule of verdicts means for one strip: guard bands, the risk of each verdict, and the risk over the process.</summary>
/// <param name="Strips">How many strips of its lot and line the history has, this one among them.</param>
/// <param name="Results">Each parameter and channel with a limit and an uncertainty; spreads over the colours scatter otherwise.</param>
public sealed record StripRisks(StripRecord Strip, double Level, int Strips, ImmutableArray<ResultRisk> Results)
{
    /// <summary>With fewer strips nothing is said of the process: its scatter would be a guess (common practice, no source).</summary>
    public const int FewestStrips = 10;

    /// <summary>Finds them.</summary>
    /// <param name="id">The strip's id or a part of it.</param>
    /// <param name="level">Probability that verdicts ask for.</param>
    /// <exception cref="StoreException">
    /// There is no such strip, a part of an id fits more than one, or the store cannot be read.
    /// </exception>
    public static async Task<StripRisks> OfAsync(
        AcquireStore store, string id, double level, TimeProvider time, CancellationToken cancellationToken)
    {
        var strip = await store.GetStripAsync(id, cancellationToken);
        var judgement = (await StripJudging.LoadAsync(store, cancellationToken, level)).Judge(strip);
        var history = await StripHistory.LoadAsync(
            store, new HistoryFilter(
                new StripFilter { LotCode = strip.LotCode, Line = strip.Tags.Line }, Process: strip.JudgedBy.Key) { Level = level },
            time, cancellationToken);
        // Strips of other lines do not tell of a strip without one.
        var strips = history?.Strips.Where(s => Keys.Same(s.Line ?? "", strip.Tags.Line ?? "")).ToList() ?? [];
        var series = HistorySeries.Of(strips);
        return new StripRisks(
            strip, level, strips.Count,
            [
                .. from result in judgement.Results
                   where result is { Parameter.HasSign: true, Deviation: not null, Budget: not null, Verdict: not null }
                   select ResultRisk.Of(
                       result, level, series.GetValueOrDefault(new SeriesKey(result.Parameter.Key, result.Channel), [])),
            ]);
    }
}

/// <summary>One result of a strip with what its verdict risks.</summary>
/// <param name="Band">Where "in" and "out" can be said.</param>
/// <param name="Outside">Chance that the true deviation is outside the limit: of an "in" the consumer's risk, of an "out" 1 less the
/// producer's (JCGM 106:2012, clause 9.3).</param>
/// <param name="Global">The risks over a process that goes on as it did; null where the history does not tell its scatter.</param>
public sealed record ResultRisk(ParameterResult Result, GuardBand Band, double Outside, GlobalRisk? Global)
{
    internal static ResultRisk Of(ParameterResult result, double level, ImmutableArray<SeriesEntry> history)
    {
        var (verdict, budget) = (result.Verdict!, result.Budget!);
        var band = GuardBand.Of(verdict.Limit, budget.StandardUncertainty, budget.DegreesOfFreedom, level);
        return new ResultRisk(result, band, 1 - verdict.ProbabilityInside, GlobalOf(band, history));
    }

    private static GlobalRisk? GlobalOf(GuardBand band, ImmutableArray<SeriesEntry> history)
    {
        if (history.Length < StripRisks.FewestStrips || band.StandardUncertainty <= 0)
        {
            return null;
        }

        // What reading adds to the scatter of the strips is none of the process.
        var seen = Summary.Of([.. history.Select(e => e.Deviation)]);
        var reading = history.Average(e => e.ReadingUncertainty * e.ReadingUncertainty);
        var own = (seen.StandardDeviation!.Value * seen.StandardDeviation.Value) - reading;
        return own <= 0 || band.AcceptsNothing ? null
            : GlobalRisk.Of(band.Limit, band.AcceptFrom, band.AcceptTo, seen.Mean, Math.Sqrt(own), band.StandardUncertainty);
    }
}
