using Acquire.Analysis.Judgement;
using Acquire.Analysis.Uncertainty;

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
        ArgumentNullException.ThrowIfNull(store);
        var references = new List<LotReference>();
        foreach (var lot in await store.ListLotsAsync(cancellationToken))
        {
            references.AddRange(await store.ListReferencesAsync(lot.Code, cancellationToken));
        }

        return new StripJudging(await store.ListChecksAsync(cancellationToken), references.DistinctBy(r => r.Id), level);
    }

    /// <summary>Judges one strip.</summary>
    public StripJudgement Judge(StripRecord strip)
    {
        ArgumentNullException.ThrowIfNull(strip);
        return StripJudge.Judge(strip, StateOf(strip), Level);
    }

    private CalibrationState? StateOf(StripRecord strip)
    {
        if (strip.CheckId is not { } id || !_checks.TryGetValue(id, out var check))
        {
            return null;
        }

        var reference = strip.ReferenceId is { } used ? _references.GetValueOrDefault(used) : null;
        return new CalibrationState(reference is not null && InForceFor(reference.Provenance)?.Id == id, (double)check.Plaque.Tolerance);
    }

    private CalibrationCheck? InForceFor(Provenance reading) => reading.Instrument is not { } instrument ? null : _checks.Values
        .Where(c => c.IsInForceAt(reading.At) && (c.Provenance.Instrument is null || c.Provenance.Instrument.Profile == instrument.Profile))
        .MaxBy(c => c.Provenance.At);
}
