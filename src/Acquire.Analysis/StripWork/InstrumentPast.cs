using Acquire.Analysis.Gauge;

namespace Acquire.Analysis.StripWork;

/// <summary>
/// All that was ever read with the instruments of a house, for what it tells of how they repeat and how their zero moves. A repeatability
/// test begins a new era of its instrument, as one is made after a repair too: repeats count from the test in force until the next; what
/// was read before the first test counts with it.
/// </summary>
public sealed class InstrumentPast
{
    private readonly Dictionary<(string Key, int Era), InstrumentKnowledge> _known = [];
    private readonly Dictionary<string, ZeroKnowledge> _zeros = [];
    private readonly ILookup<string, RepeatabilityTest> _tests;
    private readonly ILookup<(string Key, int Era), PatchRepeats> _repeats;
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
        _tests = all.ToLookup(t => Key(t.Provenance.Instrument?.Name));
        _testIds = [.. all.Select(t => t.Id)];
        _repeats = all.Select(t => (t.Provenance.Instrument?.Name, t.Provenance.At, Repeats: PatchRepeats.Of(t)))
            // The reads of an average of strips are strips, and scatter as the process does.
            .Concat(References.Values.Where(r => r.BaselineStrips.IsEmpty)
                .Select(r => (Name: r.InstrumentName, r.Provenance.At, Repeats: PatchRepeats.Of(r.Patches))))
            .Concat(Rechecks.Select(r => (r.Provenance.Instrument?.Name, r.Provenance.At, Repeats: PatchRepeats.Of(r.Patches))))
            .Concat(Checks.Select(c => (c.Provenance.Instrument?.Name, c.Provenance.At, Repeats: PatchRepeats.Of(c.Patches))))
            .SelectMany(r => r.Repeats.Select(p => (Place: (Key(r.Name), EraOf(r.Name, r.At)), Repeats: p)))
            .Concat(strips.Select(s => (Place: (Key(s.Instrument), Math.Max(s.Era, FirstEra(s.Instrument))), s.Repeats)))
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
    public int EraOf(string? name, DateTimeOffset moment) =>
        Math.Max(FirstEra(name), _tests[Key(name)].Count(t => t.Provenance.At <= moment));

    /// <summary>Whether a test is among those that are known with all their reads.</summary>
    public bool Knows(RepeatabilityInForce? test) => test is null || _testIds.Contains(test.TestId);

    /// <summary>What is known of how an instrument repeated at a moment.</summary>
    /// <param name="name">Its name; null for readings that do not name one.</param>
    public InstrumentKnowledge Of(string? name, DateTimeOffset moment)
    {
        var era = EraOf(name, moment);
        if (!_known.TryGetValue((Key(name), era), out var known))
        {
            _known[(Key(name), era)] = known = InstrumentKnowledge.Of(name ?? "", _repeats[(Key(name), era)], Assumptions);
        }

        return known;
    }

    /// <summary>What is known of how the zero of an instrument moves: by reference strips and plaques that were read again, and by the
    /// thinnest patch of its strips from day to day.</summary>
    public ZeroKnowledge ZeroOf(string? name)
    {
        if (!_zeros.TryGetValue(Key(name), out var zero))
        {
            var days =
                Days.Where(d => Keys.Same(d.Instrument, name)).Select(d => d.Move(Of(name, DateTimeOffset.MaxValue))).OfType<ZeroMove>();
            _zeros[Key(name)] = zero = ZeroKnowledge.Of([.. Moves(name), .. days], Assumptions);
        }

        return zero;
    }

    private IEnumerable<ZeroMove> Moves(string? name)
    {
        var rechecks =
            from again in Rechecks
            where Keys.Same(again.Provenance.Instrument?.Name, name)
            let first = References.Values.Where(r => Keys.Same(r.LotCode, again.LotCode) && r.Provenance.At <= again.Provenance.At
                && Keys.Same(r.Provenance.Instrument?.Name, name) && r.BaselineStrips.IsEmpty).MaxBy(r => r.Provenance.At)
            where first is not null
            select (First: (first.Patches, first.Provenance.At), Second: (again.Patches, again.Provenance.At));
        var checks = Checks.Where(c => Keys.Same(c.Provenance.Instrument?.Name, name))
            .GroupBy(c => c.Plaque.Name, StringComparer.OrdinalIgnoreCase)
            .Select(g => g.OrderBy(c => c.Provenance.At).Select(c => (c.Patches, c.Provenance.At)).ToList())
            .SelectMany(c => c.Zip(c.Skip(1)));
        return rechecks.Concat(checks)
            .Where(p => !ZeroKnowledge.IsOneSitting(p.First.At, p.Second.At))
            .Select(p => ZeroMove.Between(PatchMeans.Of(p.First.Patches), PatchMeans.Of(p.Second.Patches), Of(name, p.Second.At)))
            .OfType<ZeroMove>();
    }

    private int FirstEra(string? name) => _tests[Key(name)].Any() ? 1 : 0;

    private static string Key(string? name) => name?.ToUpperInvariant() ?? "";
}

/// <summary>Repeats within strips of one instrument.</summary>
/// <param name="Instrument">Its name; null for strips that do not name one.</param>
/// <param name="Era">How many tests of it had been made by then.</param>
public readonly record struct StripRepeats(string? Instrument, int Era, PatchRepeats Repeats);
