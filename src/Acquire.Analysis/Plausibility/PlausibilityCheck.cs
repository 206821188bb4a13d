using System.Collections.Immutable;
using Acquire.Analysis.Plausibility.Hypotheses;
using Acquire.Analysis.Plausibility.Model;
using Acquire.Analysis.Plausibility.Repeats;
using Acquire.Analysis.Plausibility.WithoutAims;
using Acquire.Domain.Strips;

namespace Acquire.Analysis.Plausibility;

/// <summary>
/// Looks for mistakes of reading in a strip, each weighed against "the process did this". It decides nothing: it gives at most one question
/// at a time, and none without decisive evidence.
/// </summary>
/// <remarks>
/// It is made once for a strip and asked after every read; what it has worked out is kept. Not for use from several threads at once.
/// Missing channels, excluded reads, patches left out, and patches without aims are passed over.
/// </remarks>
public sealed class PlausibilityCheck
{
    private readonly StripKnowledge _knowledge;
    private readonly StripModel _model;
    private readonly HypothesisTest _test;
    private readonly RepeatAgreement _repeats;
    private readonly PatchHypotheses _patches;
    private readonly OrderHypotheses _orders;
    private readonly ChannelHypotheses _channels;
    private readonly InstrumentHypotheses _instrument;

    /// <summary>Prepares the check of a strip.</summary>
    public PlausibilityCheck(StripKnowledge knowledge)
    {
        ArgumentNullException.ThrowIfNull(knowledge);
        _knowledge = knowledge;
        _model = new StripModel(knowledge);
        _test = new HypothesisTest(_model);
        _repeats = new RepeatAgreement(knowledge);
        _patches = new PatchHypotheses(_model);
        _orders = new OrderHypotheses(_model);
        _channels = new ChannelHypotheses(_model);
        _instrument = new InstrumentHypotheses(_model);
    }

    /// <summary>The one question to ask after a read; null for none.</summary>
    /// <param name="patches">The strip as read so far, in the layout's order; patches that are not read yet may be absent.</param>
    /// <param name="answered">Keys of questions that were answered already.</param>
    public Suspicion? QuestionAfterRead(ImmutableArray<PatchReads> patches, IReadOnlySet<string>? answered = null) =>
        Best(RankAfterRead(patches), answered);

    /// <summary>The one question to ask when all patches are read; null for none.</summary>
    /// <param name="patches">The strip, in the layout's order.</param>
    /// <param name="answered">Keys of questions that were answered already.</param>
    public Suspicion? QuestionWhenComplete(ImmutableArray<PatchReads> patches, IReadOnlySet<string>? answered = null) =>
        Best(RankWhenComplete(patches), answered);

    /// <summary>Every mistake that was considered after a read, the likeliest first, decisive or not.</summary>
    public ImmutableArray<Suspicion> RankAfterRead(ImmutableArray<PatchReads> patches)
    {
        var reads = TimedRead.InOrder(patches.IsDefault ? [] : patches);
        if (reads.IsEmpty)
        {
            return [];
        }

        var current = patches.First(p => p.Patch.Key == reads[^1].Place.PatchKey);
        var repeats = new[] { DoubleTrigger.Of(reads, _knowledge), _repeats.Of(current) }.OfType<Suspicion>().ToList();

        // The mean of reads that do not agree says nothing of the patch, and one that was triggered twice nothing of its own.
        return repeats.Any(IsDecisive)
            ? Ranked(repeats)
            : Ranked([.. repeats, .. NullReading.Of(reads, _knowledge) is { } zero ? [zero] : Array.Empty<Suspicion>(), .. Against(patches, current.Patch), .. Plain(patches)]);
    }

    /// <summary>Every mistake that was considered for the whole strip, the likeliest first, decisive or not.</summary>
    public ImmutableArray<Suspicion> RankWhenComplete(ImmutableArray<PatchReads> patches)
    {
        if (patches.IsDefaultOrEmpty)
        {
            return [];
        }

        var repeats = patches.Select(_repeats.Of).OfType<Suspicion>();
        var dry = new Drying(_knowledge).Of(patches);
        return Ranked([.. repeats, .. dry is null ? [] : new[] { dry }, .. Against(patches, null), .. Plain(patches)]);
    }

    /// <summary>Whether the evidence of a suspicion suffices for a question.</summary>
    public bool IsDecisive(Suspicion suspicion)
    {
        ArgumentNullException.ThrowIfNull(suspicion);
        return suspicion.Evidence >= (suspicion.Class == SuspicionClass.Gross ? _knowledge.Settings.GrossThreshold : _knowledge.Settings.SubtleThreshold);
    }

    private Suspicion? Best(ImmutableArray<Suspicion> ranked, IReadOnlySet<string>? answered) =>
        ranked.FirstOrDefault(s => IsDecisive(s) && answered?.Contains(s.Key) != true);

    private IEnumerable<Suspicion> Against(ImmutableArray<PatchReads> patches, Patch? current)
    {
        if (StripData.Of(_model, patches) is not { } data)
        {
            yield break;
        }

        var slot = current is null ? -1 : _model.Patches.IndexOf(_model.Patches.FirstOrDefault(p => p.Key == current.Key)!);
        var hypotheses = current is not null ? AfterRead(data, slot) : WhenComplete(data);
        foreach (var hypothesis in hypotheses)
        {
            if (_test.Evidence(hypothesis, data) is { } evidence)
            {
                yield return new Suspicion(
                    hypothesis.Kind, evidence, [.. hypothesis.Slots.Select(s => _model.Patches[s].Key)], [], hypothesis.Question, hypothesis.Remedy);
            }
        }
    }

    private IEnumerable<Hypothesis> AfterRead(StripData data, int slot) =>
    [
        _orders.WrongEnd(complete: false),
        .. slot >= 0 && data.Has(slot) ? _patches.Of(slot).Concat(_channels.SwapsOf(slot)) : [],
        .. Everywhere(data),
    ];

    private IEnumerable<Hypothesis> WhenComplete(StripData data) =>
    [
        _orders.WrongEnd(complete: true),
        .. _orders.Exchanges(),
        .. _orders.Shifts(),
        .. data.Slots.SelectMany(s => _patches.Of(s).Where(h => h.Kind != SuspicionKind.NeutralOrder)),
        .. Everywhere(data),
        .. _instrument.Patterns(),
        .. new LotHypotheses(_model).Of(),
    ];

    private IEnumerable<Hypothesis> Everywhere(StripData data) =>
        [.. _channels.Swaps(data), .. _channels.Visual(data), .. _instrument.Relative(data), .. _patches.Wedge(data)];

    private IEnumerable<Suspicion> Plain(ImmutableArray<PatchReads> patches) => new[]
    {
        ColourOrder.Of(patches, _knowledge),
        _knowledge.Aims.IsDefaultOrEmpty ? NamedOrder.Of(patches, _knowledge) : null,
    }.OfType<Suspicion>();

    private static ImmutableArray<Suspicion> Ranked(IEnumerable<Suspicion> suspicions) => [.. suspicions.OrderByDescending(s => s.Evidence)];
}
