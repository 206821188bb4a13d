namespace Acquire.Analysis.Plausibility;

/// <summary>Looks for mistakes of reading in a strip, each weighed against "the process did this". It decides nothing: it gives at most one
/// question at a time, and none without decisive evidence.</summary>
/// <remarks>It is made once for a strip and asked after every read; what it has worked out is kept. Not for use from several threads at
/// once. Missing channels, excluded reads, patches left out, and patches without aims are passed over.</remarks>
public sealed class PlausibilityCheck
{
    // Even odds: what cannot come up to them is not worked out.
    private const double LeastEvidence = 0;

    private readonly StripKnowledge _knowledge;
    private readonly StripModel _model;
    private readonly HypothesisTest _test;
    private readonly RepeatAgreement _repeats;
    private readonly PatchHypotheses _patches;
    private readonly OrderHypotheses _orders;
    private readonly ChannelHypotheses _channels;
    private readonly InstrumentHypotheses _instrument;
    private readonly CellHypotheses _cells;
    private readonly PartHypotheses _parts;

    /// <summary>Prepares the check of a strip.</summary>
    public PlausibilityCheck(StripKnowledge knowledge)
    {
        _knowledge = knowledge;
        _model = new StripModel(knowledge);
        _test = new HypothesisTest(_model);
        _repeats = new RepeatAgreement(knowledge);
        _patches = new PatchHypotheses(_model);
        _orders = new OrderHypotheses(_model);
        _channels = new ChannelHypotheses(_model);
        _instrument = new InstrumentHypotheses(_model);
        _cells = new CellHypotheses(_model, _test);
        _parts = new PartHypotheses(_model);
    }

    /// <summary>The one question to ask after a read; null for none.</summary>
    /// <param name="patches">The strip as read so far, in the layout's order; patches that are not read yet may be absent.</param>
    /// <param name="answered">Keys of questions that were answered already.</param>
    /// <param name="last">The reading that was taken last; null for the one of the latest time.</param>
    public Suspicion? QuestionAfterRead(
        ImmutableArray<PatchReads> patches, IReadOnlySet<string>? answered = null, Reading? last = null) =>
        Best(RankAfterRead(patches, last), answered);

    /// <summary>The one question to ask when all patches are read; null for none.</summary>
    /// <param name="patches">The strip, in the layout's order.</param>
    /// <param name="answered">Keys of questions that were answered already.</param>
    public Suspicion? QuestionWhenComplete(ImmutableArray<PatchReads> patches, IReadOnlySet<string>? answered = null) =>
        Best(RankWhenComplete(patches), answered);

    /// <summary>Every mistake that may have been made so far, the likeliest first, decisive or not; those
    /// that are certainly less likely than not may be absent.</summary>
    public ImmutableArray<Suspicion> RankAfterRead(ImmutableArray<PatchReads> patches, Reading? last = null)
    {
        patches = Whole(patches);
        // Known by itself where it is: the system clock may have been set back since the reads before.
        ImmutableArray<TimedRead> reads = [.. TimedRead.InOrder(patches).OrderBy(r => ReferenceEquals(r.Reading, last))];
        if (reads.IsEmpty)
        {
            return [];
        }

        var current = patches.First(p => p.Patch.Key == reads[^1].Place.PatchKey);
        var lost = LostDigit.Of(reads);
        List<Suspicion> repeats =
        [
            .. new[] { DoubleTrigger.Of(reads, _knowledge), _repeats.Of(current) }.OfType<Suspicion>(),
            .. lost.Where(s => s.Reads.Contains(reads[^1].Place)),
        ];
        // That an earlier read lost one may show only now, by how the later ones are written; it says nothing of the last read.
        var earlier = lost.Except(repeats);

        // The mean of reads that do not agree says nothing of the patch, and one that was triggered twice nothing of its own. Later reads
        // of a patch are compared with its first; the means are weighed once more when the strip is complete.
        if (repeats.Any(IsDecisive) || current.Accepted.Count() > 1)
        {
            return Ranked([.. repeats, .. earlier]);
        }

        return Ranked([
            .. repeats,
            .. earlier,
            .. NullReading.Of(reads, _knowledge) is { } zero ? [zero] : Array.Empty<Suspicion>(),
            .. Weighed(patches, current.Patch)]);
    }

    /// <summary>Every mistake that may have been made on the whole strip, in the same way.</summary>
    public ImmutableArray<Suspicion> RankWhenComplete(ImmutableArray<PatchReads> patches)
    {
        patches = Whole(patches);
        var repeats = patches.Select(_repeats.Of).OfType<Suspicion>();
        return Ranked([.. repeats, .. LostDigit.Of(TimedRead.InOrder(patches)), .. Weighed(patches, null)]);
    }

    /// <summary>Whether the evidence of a suspicion suffices for a question.</summary>
    public bool IsDecisive(Suspicion suspicion)
    {
        return suspicion.Evidence >= (suspicion.Class == SuspicionClass.Gross
            ? _knowledge.Settings.GrossThreshold
            : _knowledge.Settings.SubtleThreshold);
    }

    private Suspicion? Best(ImmutableArray<Suspicion> ranked, IReadOnlySet<string>? answered) =>
        ranked.FirstOrDefault(s => IsDecisive(s) && answered?.Contains(s.Key) != true);

    private List<Suspicion> Weighed(ImmutableArray<PatchReads> patches, Patch? current)
    {
        var suspicions = new List<Suspicion>();
        var strangeness = double.NegativeInfinity;
        ImmutableArray<DryingTrend> drifts = current is null ? Drying.Of(patches, _knowledge) : [];
        if (StripData.Of(_model, patches) is { } data)
        {
            var slot = current is null ? -1 : _model.Patches.IndexOf(_model.Patches.FirstOrDefault(p => p.Key == current.Key)!);
            // Every mistake is weighed against the same rival, all that a process may do, so their evidence can be ranked.
            (var unnamed, strangeness) = _test.Unnamed(data);
            suspicions.AddRange(
                from hypothesis in current is not null ? AfterRead(data, slot) : WhenComplete(data, drifts)
                let evidence = _test.Evidence(hypothesis, data, unnamed, LeastEvidence)
                where evidence is not null
                select new Suspicion(
                    hypothesis.Kind, evidence.Value, [.. hypothesis.Slots.Select(s => _model.Patches[s].Key)], [],
                    (evidence >= _knowledge.Settings.GrossThreshold ? hypothesis.Say?.Invoke() : null) ?? hypothesis.Question,
                    hypothesis.Remedy));
        }
        else if (DryingHypotheses.WithoutAims(drifts) is { } wet)
        {
            suspicions.Add(wet);
        }

        // Colours out of order are a question of their own only where nothing with a name explains them.
        if (suspicions.All(s => s.Evidence < LeastEvidence) && ColourOrder.Of(patches, _knowledge, strangeness) is { } colours)
        {
            suspicions.Add(colours);
        }

        if (_knowledge.Aims.IsDefaultOrEmpty && NamedOrder.Of(patches, _knowledge) is { } order)
        {
            suspicions.Add(order);
        }

        return suspicions;
    }

    private IEnumerable<Hypothesis> AfterRead(StripData data, int slot) =>
    [
        _orders.WrongEnd(complete: false),
        .. slot >= 0 && data.Has(slot) ? _patches.Of(slot).Concat(_channels.SwapsOf(slot)).Concat(OnPatch(data, slot)) : [],
        .. Everywhere(data),
    ];

    private IEnumerable<Hypothesis> WhenComplete(StripData data, ImmutableArray<DryingTrend> drifts) =>
    [
        _orders.WrongEnd(complete: true),
        .. _orders.Exchanges(),
        .. _orders.Shifts(),
        .. data.Slots.SelectMany(s => _patches.Of(s).Where(h => h.Kind != SuspicionKind.NeutralOrder).Concat(OnPatch(data, s))),
        .. Everywhere(data),
        .. _instrument.Patterns(),
        .. _instrument.Drifting(),
        .. _parts.TwoStrips(),
        .. new LotHypotheses(_model).Of(),
        .. new DryingHypotheses(_model).Of(drifts),
    ];

    private IEnumerable<Hypothesis> OnPatch(StripData data, int slot) => [.. _cells.Of(data, slot), .. _parts.EdgeOf(slot)];

    private IEnumerable<Hypothesis> Everywhere(StripData data) =>
        [.. _channels.Swaps(data), .. _channels.Visual(data), .. _instrument.Relative(data), .. _patches.Wedge(data)];

    // Every patch of the layout in its order, so that an order that is proposed is one of the whole strip.
    private ImmutableArray<PatchReads> Whole(ImmutableArray<PatchReads> patches) =>
    [
        .. _knowledge.Layout.Patches.Select(p => (patches.IsDefault ? [] : patches)
            .FirstOrDefault(r => Keys.Same(r.Patch.Key, p.Key)) ?? PatchReads.None(p)),
    ];

    private static ImmutableArray<Suspicion> Ranked(IEnumerable<Suspicion> suspicions) =>
        [.. suspicions.OrderByDescending(s => s.Evidence)];
}
