using Acquire.Analysis.Gauge;
using Acquire.Analysis.Judgement;
using Acquire.Analysis.StripWork;
using Acquire.Analysis.Uncertainty;
using Acquire.Bench.Trust;
using Acquire.Formats.Strips;
using Acquire.Storage.Records;

namespace Acquire.Bench.Strips;

/// <summary>
/// Judges strips with what the store knows beyond their records: how their instrument repeats by all that was ever read with it, how the
/// reference was read, and whether strip and reference share a zero, by a calibration check or by one sitting.
/// </summary>
public sealed class StripJudging
{
    private readonly InstrumentPast _past;
    private readonly ImmutableDictionary<Guid, CalibrationCheck> _checks;
    private readonly Dictionary<Guid, AimKnowledge> _aims = [];

    private StripJudging(InstrumentPast past, double level, bool hasStore) =>
        (_past, _checks, Level, HasStore) = (past, past.Checks.ToImmutableDictionary(c => c.Id), level, hasStore);

    /// <summary>Judges by the record alone: its own repeats, the test that it names, and for the rest the usual assumption.</summary>
    public static StripJudging WithoutStore { get; } = new(InstrumentPast.None, Verdicts.UsualLevel, hasStore: false);

    /// <summary>Probability that verdicts ask for.</summary>
    public double Level { get; }

    /// <summary>What is taken for granted of an instrument of which too little is known.</summary>
    public Assumptions Assumptions => _past.Assumptions;

    private bool HasStore { get; }

    /// <summary>Judges by what was ever read, wherever it is kept; the repeats of the strips themselves are to be among it.</summary>
    public static StripJudging By(InstrumentPast past, double level = Verdicts.UsualLevel) => new(past, level, hasStore: true);

    /// <summary>Loads what judging needs.</summary>
    /// <param name="level">Probability that verdicts ask for; null for what the user settled.</param>
    /// <param name="unkept">A strip that is not in the store yet; its repeats count as well.</param>
    /// <param name="assumptions">What is taken for granted; null for what the user settled.</param>
    /// <exception cref="BenchException">The settings beside the store are wrong.</exception>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public static async Task<StripJudging> LoadAsync(
        AcquireStore store, CancellationToken cancellationToken, double? level = null, StripRecord? unkept = null,
        Assumptions? assumptions = null)
    {
        var settled = Settings.Of(store);
        var (references, rechecks) = (new List<LotReference>(), new List<ReferenceRecheck>());
        foreach (var lot in await store.ListLotsAsync(cancellationToken))
        {
            references.AddRange(await store.ListReferencesAsync(lot.Code, cancellationToken));
            rechecks.AddRange(await store.ListRechecksAsync(lot.Code, cancellationToken));
        }

        var tests = await store.ListRepeatabilityTestsAsync(cancellationToken);
        var own = unkept is null ? [] : PatchRepeats.Of(unkept.Means).Select(r => new StripRepeats(
            Profile(unkept),
            tests.Count(t => t.Provenance.Instrument?.Profile == Profile(unkept) && t.Provenance.At <= unkept.Provenance.At), r));
        var within = (await store.ListRepeatsAsync(PatchRepeats.NoScatter, cancellationToken)).Select(s => new StripRepeats(
            s.Profile, (int)s.Era, new PatchRepeats(
                s.Channel, s.Density, Math.Sqrt(Math.Max(0, s.Squares) / s.DegreesOfFreedom), s.DegreesOfFreedom)
            {
                Step = s.Step,
            }));
        var past = new InstrumentPast(
            tests, references, rechecks, await store.ListChecksAsync(cancellationToken), [.. within, .. own],
            assumptions ?? settled.Assumptions())
        {
            Days = Thinnest(await store.ListDaysAsync(cancellationToken)),
        };
        return By(past, settled.Level(level));
    }

    /// <summary>Judges one strip.</summary>
    public StripJudgement Judge(StripRecord strip) => StripJudge.Judge(strip, GroundOf(strip), Level);

    /// <summary>What is known when a strip is judged.</summary>
    public JudgingGround GroundOf(StripRecord strip)
    {
        if (!HasStore)
        {
            return JudgingGround.Of(strip, Assumptions);
        }

        var instrument = _past.Of(Profile(strip), strip.Provenance.At);
        // The test of an imported strip is known by its record only.
        var all = _past.Knows(strip.Repeatability) ? instrument : instrument.With(PatchRepeats.Of(strip.Repeatability));
        var reference = strip.ReferenceId is { } id ? _past.References.GetValueOrDefault(id) : null;
        return new JudgingGround(
            all, reference is null ? null : AimsOf(reference), _past.ZeroOf(Profile(strip)), ZeroBetweenThe(reference, strip));
    }

    /// <summary>What is known of how an instrument repeated at a moment.</summary>
    /// <param name="profile">Its device profile; null for readings that do not name one.</param>
    public InstrumentKnowledge InstrumentOf(string? profile, DateTimeOffset moment) => _past.Of(profile, moment);

    private AimKnowledge AimsOf(LotReference reference)
    {
        if (!_aims.TryGetValue(reference.Id, out var known))
        {
            // An average of strips rests on how those scatter, not on how an instrument repeats.
            var instrument = reference.BaselineStrips.IsEmpty
                ? _past.Of(reference.InstrumentProfile, reference.Provenance.At)
                : InstrumentKnowledge.Of("strips of the baseline", PatchRepeats.Of(reference.Patches), Assumptions);
            _aims[reference.Id] = known = AimKnowledge.Of(reference, instrument);
        }

        return known;
    }

    private ZeroBetween ZeroBetweenThe(LotReference? reference, StripRecord strip)
    {
        if (strip.CheckId is { } id && _checks.TryGetValue(id, out var check))
        {
            // Under one check a zero error sits in strip and aim alike and cancels; under two, each check's tolerance is open.
            return ZeroBetween.OfChecks(
                reference is not null && InForceFor(reference.Provenance)?.Id == id, (double)check.Plaque.Tolerance);
        }

        var own = _past.ZeroOf(Profile(strip));
        return reference switch
        {
            null => ZeroBetween.OfSittings(own, own),
            // Nobody here set a zero for a list, and an average of strips holds those of its days in its scatter.
            { Origin.ListUncertainty: not null } or { BaselineStrips.IsEmpty: false } => ZeroBetween.OfSittings(own, null),
            { Provenance.Instrument: { } read } when read.Profile == Profile(strip)
                && ZeroKnowledge.IsOneSitting(reference.Provenance.At, strip.Provenance.At) => ZeroBetween.None,
            _ => ZeroBetween.OfSittings(own, _past.ZeroOf(reference.InstrumentProfile)),
        };
    }

    private CalibrationCheck? InForceFor(Provenance reading) => reading.Instrument is not { } instrument ? null : _past.Checks
        .Where(c => c.IsInForceAt(reading.At) && (c.Provenance.Instrument is null || c.Provenance.Instrument.Profile == instrument.Profile))
        .MaxBy(c => c.Provenance.At);

    private static string? Profile(StripRecord strip) => strip.Provenance.Instrument?.Profile;

    private static ImmutableArray<ThinnestPatch> Thinnest(IReadOnlyList<DaySums> days) =>
    [
        .. days.GroupBy(d => (d.Profile, d.LotCode)).Select(lot => lot.MinBy(d => d.Density)!)
            .Select(d => new ThinnestPatch(d.Profile, d.Density, (int)d.Channels, d.Reads, d.Step, (int)d.Pairs, d.Squares)),
    ];
}

/// <summary>What a stored strip says about the strip that it was run to confirm, or about its own earlier reading.</summary>
/// <param name="Confirmation">About the strip it confirms; null when it confirms none.</param>
/// <param name="Again">What has changed since it was read before; null when it was not.</param>
public sealed record StripTies(SecondStrip? Confirmation, SecondReading? Again)
{
    /// <summary>Looks the other strips up, each in its newest revision.</summary>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public static async Task<StripTies> OfAsync(
        AcquireStore store, StripRecord strip, StripJudging judging, CancellationToken cancellationToken)
    {
        var first = await FindAsync(store, strip.Tags.Confirms, cancellationToken);
        var before = await FindAsync(store, strip.Tags.Reread?.Of, cancellationToken);

        // A correction may have given one of the two another lot; then they have nothing to say about each other any more.
        var isSame = before is not null && Keys.Same(before.LotCode, strip.LotCode);
        return new StripTies(
            first is null ? null : SecondStrip.Of(first, strip, judging.GroundOf),
            isSame ? SecondReading.Of(before!, strip, judging.GroundOf) : null);
    }

    private static async Task<StripRecord?> FindAsync(AcquireStore store, Guid? id, CancellationToken cancellationToken) =>
        id is { } given ? await store.FindStripAsync(given.ToString(), cancellationToken) : null;
}

/// <summary>Joins a record with its judgement for export: storage knows nothing of analysis.</summary>
public static class StripExports
{
    /// <summary>The strip as it is exported, judged by its record alone.</summary>
    public static StripExport Of(StripRecord strip) => Of(strip, StripJudging.WithoutStore.Judge(strip));

    /// <summary>The strip as it is exported, with a judgement of it.</summary>
    public static StripExport Of(StripRecord strip, StripJudgement judgement) => new(
        strip,
        [.. judgement.Results.Select(r => new ExportedParameter(
            r.Parameter.Key, r.Parameter.Name, r.Channel, r.Value, r.Aim, r.Deviation, r.StandardUncertainty, r.Zone)
        {
            Unit = r.Parameter.Unit,
            Why = r.WhyMissing,
            RestsOnAssumption = AssumptionLine.Code(r.RestsOnAssumption),
        })]);
}
