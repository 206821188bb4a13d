using Acquire.Analysis.Gauge;

namespace Acquire.Analysis.StripWork;

/// <summary>
/// All that was ever read with the instruments of a house, for what it tells of how they repeat and how their zero moves. A repeatability
/// test begins a new era of its instrument, as one is made after a repair too: repeats count from the test in force until the next; what
/// was read before the first test counts with it.
/// </summary>
public sealed class InstrumentPast
{
    private readonly Dictionary<(string? Profile, int Era), InstrumentKnowledge> _known = [];
    private readonly Dictionary<string, ZeroKnowledge> _zeros = [];
    private readonly ILookup<string, RepeatabilityTest> _tests;
    private readonly ILookup<(string Profile, int Era), PatchRepeats> _repeats;
    private readonly HashSet<Guid> _testIds;

    /// <summary>Collects.</summary>
    /// <param name="tests">All repeatability tests, in the order of reading.</param>
    /// <param name="references">Lot references; of several revisions of one the last counts.</param>
    /// <param name="strips">Repeats within strips.</param>
    public InstrumentPast(
        IEnumerable<RepeatabilityTest> tests, IEnumerable<LotReference> references, IEnumerable<ReferenceRecheck> rechecks,
        IEnumerable<CalibrationCheck> checks, IEnumerable<StripRepeats> strips, Assumptions? assumptions = null)
    {
        Assumptions = assumptions ?? Assumptions.Default;
        (References, Checks, Rechecks) =
            (references.GroupBy(r => r.Id).ToImmutableDictionary(g => g.Key, g => g.Last()), [.. checks], [.. rechecks]);
        ImmutableArray<RepeatabilityTest> all = [.. tests];
        _tests = all.ToLookup(t => Key(t.Provenance.Instrument?.Profile));
        _testIds = [.. all.Select(t => t.Id)];
        _repeats = all.Select(t => (t.Provenance.Instrument?.Profile, t.Provenance.At, Repeats: PatchRepeats.Of(t)))
            // The reads of an average of strips are strips, and scatter as the process does.
            .Concat(References.Values.Where(r => r.BaselineStrips.IsEmpty)
                .Select(r => (Profile: r.InstrumentProfile, r.Provenance.At, Repeats: PatchRepeats.Of(r.Patches))))
            .Concat(Rechecks.Select(r => (r.Provenance.Instrument?.Profile, r.Provenance.At, Repeats: PatchRepeats.Of(r.Patches))))
            .Concat(Checks.Select(c => (c.Provenance.Instrument?.Profile, c.Provenance.At, Repeats: PatchRepeats.Of(c.Patches))))
            .SelectMany(r => r.Repeats.Select(p => (Place: (Key(r.Profile), EraOf(r.Profile, r.At)), Repeats: p)))
            .Concat(strips.Select(s => (Place: (Key(s.Profile), Math.Max(s.Era, FirstEra(s.Profile))), s.Repeats)))
            .ToLookup(r => r.Place, r => r.Repeats);
    }

    public Assumptions Assumptions { get; }

    public ImmutableDictionary<Guid, LotReference> References { get; }

    public ImmutableArray<CalibrationCheck> Checks { get; }

    public ImmutableArray<ReferenceRecheck> Rechecks { get; }

    /// <summary>How the thinnest patch of each lot went from day to day; empty where there is no history.</summary>
    public ImmutableArray<ThinnestPatch> Days { get; init; } = [];

    /// <summary>Nothing at all: then the assumption and the record's own repeats count.</summary>
    public static InstrumentPast None { get; } = new([], [], [], [], []);

    /// <summary>How many tests of an instrument had been made by a moment.</summary>
    public int EraOf(string? profile, DateTimeOffset moment) =>
        Math.Max(FirstEra(profile), _tests[Key(profile)].Count(t => t.Provenance.At <= moment));

    /// <summary>Whether a test is among those that are known with all their reads.</summary>
    public bool Knows(RepeatabilityInForce? test) => test is null || _testIds.Contains(test.TestId);

    /// <summary>What is known of how an instrument repeated at a moment.</summary>
    /// <param name="profile">Its device profile; null for readings that do not name one.</param>
    public InstrumentKnowledge Of(string? profile, DateTimeOffset moment)
    {
        var era = EraOf(profile, moment);
        if (!_known.TryGetValue((Key(profile), era), out var known))
        {
            _known[(Key(profile), era)] = known = InstrumentKnowledge.Of(Key(profile), _repeats[(Key(profile), era)], Assumptions);
        }

        return known;
    }

    /// <summary>What is known of how the zero of an instrument moves: by reference strips and plaques that were read again, and by the
    /// thinnest patch of its strips from day to day.</summary>
    public ZeroKnowledge ZeroOf(string? profile)
    {
        if (!_zeros.TryGetValue(Key(profile), out var zero))
        {
            var days = Days.Where(d => d.Profile == profile).Select(d => d.Move(Of(profile, DateTimeOffset.MaxValue))).OfType<ZeroMove>();
            _zeros[Key(profile)] = zero = ZeroKnowledge.Of([.. Moves(profile), .. days], Assumptions);
        }

        return zero;
    }

    private IEnumerable<ZeroMove> Moves(string? profile)
    {
        var rechecks =
            from again in Rechecks
            where again.Provenance.Instrument?.Profile == profile
            let first = References.Values.Where(r => Keys.Same(r.LotCode, again.LotCode) && r.Provenance.At <= again.Provenance.At
                && r.Provenance.Instrument?.Profile == profile && r.BaselineStrips.IsEmpty).MaxBy(r => r.Provenance.At)
            where first is not null
            select (First: (first.Patches, first.Provenance.At), Second: (again.Patches, again.Provenance.At));
        var checks = Checks.Where(c => c.Provenance.Instrument?.Profile == profile)
            .GroupBy(c => c.Plaque.Name, StringComparer.OrdinalIgnoreCase)
            .Select(g => g.OrderBy(c => c.Provenance.At).Select(c => (c.Patches, c.Provenance.At)).ToList())
            .SelectMany(c => c.Zip(c.Skip(1)));
        return rechecks.Concat(checks)
            .Where(p => !ZeroKnowledge.IsOneSitting(p.First.At, p.Second.At))
            .Select(p => ZeroMove.Between(PatchMeans.Of(p.First.Patches), PatchMeans.Of(p.Second.Patches), Of(profile, p.Second.At)))
            .OfType<ZeroMove>();
    }

    private int FirstEra(string? profile) => _tests[Key(profile)].Any() ? 1 : 0;

    private static string Key(string? profile) => profile ?? "";
}

/// <summary>Repeats within strips of one instrument.</summary>
/// <param name="Profile">Device profile; null for strips that do not name one.</param>
/// <param name="Era">How many tests of it had been made by then.</param>
public readonly record struct StripRepeats(string? Profile, int Era, PatchRepeats Repeats);
