using Acquire.Analysis.Judgement;
using Acquire.Analysis.StripWork;
using Acquire.Analysis.Uncertainty;
using Acquire.Formats.Strips;

namespace Acquire.Bench.Strips;

/// <summary>
/// Judges strips with what the store knows of the instrument's zero: whether strip and reference were read under one calibration check. A
/// strip without a check in force tells nothing of its zero, and then nothing is counted for it.
/// </summary>
public sealed class StripJudging
{
    private readonly ImmutableDictionary<Guid, CalibrationCheck> _checks;
    private readonly ImmutableDictionary<Guid, LotReference> _references;

    private StripJudging(IEnumerable<CalibrationCheck> checks, IEnumerable<LotReference> references, double level) =>
        (_checks, _references, Level) = (checks.ToImmutableDictionary(c => c.Id), references.ToImmutableDictionary(r => r.Id), level);

    /// <summary>Judges by the record alone: nothing is known of any check.</summary>
    public static StripJudging WithoutStore { get; } = new([], [], Verdicts.UsualLevel);

    /// <summary>Probability that verdicts ask for.</summary>
    public double Level { get; }

    /// <summary>Loads what judging needs.</summary>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public static async Task<StripJudging> LoadAsync(
        AcquireStore store, CancellationToken cancellationToken, double level = Verdicts.UsualLevel)
    {
        var references = new List<LotReference>();
        foreach (var lot in await store.ListLotsAsync(cancellationToken))
        {
            references.AddRange(await store.ListReferencesAsync(lot.Code, cancellationToken));
        }

        return new StripJudging(await store.ListChecksAsync(cancellationToken), references.DistinctBy(r => r.Id), level);
    }

    /// <summary>Judges one strip.</summary>
    public StripJudgement Judge(StripRecord strip) => StripJudge.Judge(strip, StateOf(strip), Level);

    private CalibrationState? StateOf(StripRecord strip)
    {
        if (strip.CheckId is not { } id || !_checks.TryGetValue(id, out var check))
        {
            return null;
        }

        // Under one check a zero error sits in strip and aim alike and cancels; under two, each check's tolerance is open.
        var reference = strip.ReferenceId is { } used ? _references.GetValueOrDefault(used) : null;
        return new CalibrationState(reference is not null && InForceFor(reference.Provenance)?.Id == id, (double)check.Plaque.Tolerance);
    }

    private CalibrationCheck? InForceFor(Provenance reading) => reading.Instrument is not { } instrument ? null : _checks.Values
        .Where(c => c.IsInForceAt(reading.At) && (c.Provenance.Instrument is null || c.Provenance.Instrument.Profile == instrument.Profile))
        .MaxBy(c => c.Provenance.At);
}

/// <summary>What a stored strip says about the strip that it was run to confirm, or about its own earlier reading.</summary>
/// <param name="Confirmation">About the strip it confirms; null when it confirms none.</param>
/// <param name="Again">What has changed since it was read before; null when it was not.</param>
public sealed record StripTies(SecondStrip? Confirmation, SecondReading? Again)
{
    /// <summary>Looks the other strips up, each in its newest revision.</summary>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public static async Task<StripTies> OfAsync(AcquireStore store, StripRecord strip, CancellationToken cancellationToken)
    {
        var first = await FindAsync(store, strip.Tags.Confirms, cancellationToken);
        var before = await FindAsync(store, strip.Tags.Reread?.Of, cancellationToken);

        // A correction may have given one of the two another lot; then they have nothing to say about each other any more.
        var isSame = before is not null && Keys.Same(before.LotCode, strip.LotCode);
        return new StripTies(first is null ? null : SecondStrip.Of(first, strip), isSame ? SecondReading.Of(before!, strip) : null);
    }

    private static async Task<StripRecord?> FindAsync(AcquireStore store, Guid? id, CancellationToken cancellationToken) =>
        id is { } given ? await store.FindStripAsync(given.ToString(), cancellationToken) : null;
}

/// <summary>Joins a record with its judgement for export: storage knows nothing of analysis.</summary>
public static class StripExports
{
    /// <summary>The strip as it is exported.</summary>
    public static StripExport Of(StripRecord strip) => new(
        strip,
        [.. StripJudge.Judge(strip).Results.Select(r => new ExportedParameter(
            r.Parameter.Key, r.Parameter.Name, r.Channel, r.Value, r.Aim, r.Deviation, r.StandardUncertainty, r.Zone)
        {
            Unit = r.Parameter.Unit,
            Why = r.WhyMissing,
        })]);
}
