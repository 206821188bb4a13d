using Acquire.Analysis.Plausibility;
using Acquire.Bench.Lots;
using Acquire.Bench.Sessions;
using Acquire.Bench.Strips;

namespace Acquire.Bench.Questions;

/// <summary>
/// Asks of a strip that came whole, typed or from a file, what is asked at the instrument once all is read. Nothing is refused or changed
/// for it. Not for use from several threads at once.
/// </summary>
public sealed class WholeStripQuestions
{
    // Preparing a check costs more than many strips, and neighbours in a file share their aims.
    private const int MostKept = 8;

    /// <summary>
    /// How far the aims of two lots lie apart, in density, where only another lot tells what a strip should read; common practice, no
    /// source.
    /// </summary>
    private const double BetweenLots = 0.08;

    private readonly LotsInHouse _lots;
    private readonly StripJudging _judging;
    private readonly List<(StripKnowledge Knowledge, PlausibilityCheck Check)> _kept = [];

    private WholeStripQuestions(LotsInHouse lots, StripJudging judging) => (_lots, _judging) = (lots, judging);

    /// <summary>Asks where no other lot is known.</summary>
    /// <param name="judging">What is known of the instruments; null for what each record alone tells.</param>
    public static WholeStripQuestions WithoutStore(StripJudging? judging = null) =>
        new(LotsInHouse.None, judging ?? StripJudging.WithoutStore);

    /// <summary>Prepares to ask, with lots and instruments as they stand.</summary>
    /// <exception cref="BenchException">The settings beside the store are wrong.</exception>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public static async Task<WholeStripQuestions> LoadAsync(
        AcquireStore store, LotBook lots, TimeProvider time, CancellationToken cancellationToken) =>
        new(
            await LotsInHouse.LoadAsync(store, lots, time.GetUtcNow(), cancellationToken),
            await StripJudging.LoadAsync(store, cancellationToken));

    /// <summary>The one question about a strip; null for none, and for one that was asked when the strip was read.</summary>
    public AskedQuestion? Of(StripRecord strip)
    {
        var asked = Ask(
            strip.LotCode, new StripKnowledge(strip.JudgedBy, strip.Layout)
            {
                Aims = strip.Aims,
                Instrument = _judging.GroundOf(strip).Instrument,
            },
            strip.Patches);
        return asked is not null && strip.Questions.Any(q => q.Kind == asked.Kind) ? null : asked;
    }

    /// <summary>The one question about the values of a lot's reference; null for none.</summary>
    public AskedQuestion? OfReference(LotReference reference, StripLayout layout, ProcessSheet sheet) =>
        Ask(
            reference.LotCode,
            new StripKnowledge(sheet, layout) { Instrument = _judging.InstrumentOf(reference.InstrumentName, reference.Provenance.At) },
            reference.Patches);

    private AskedQuestion? Ask(string code, StripKnowledge bare, ImmutableArray<PatchReads> patches)
    {
        var others = _lots.Beside(code, bare.Sheet.Key, bare.Layout);
        var found = bare.Aims.IsEmpty
            ? Check(bare).QuestionWhenComplete(patches) ?? ByOtherLots(bare, others, patches)
            : Check(bare with { OtherLots = others }).QuestionWhenComplete(patches);
        return found is null ? null : AskedQuestion.Of(found);
    }

    /// <summary>
    /// Where a lot has no aims yet, others of its process tell roughly what it should read: enough for what is far off, and no more.
    /// </summary>
    private Suspicion? ByOtherLots(StripKnowledge bare, ImmutableArray<OtherLot> others, ImmutableArray<PatchReads> patches)
    {
        if (others.IsEmpty)
        {
            return null;
        }

        var check = Check(bare with { Aims = [.. others[^1].Aims.Select(a => new Aim(a.PatchKey, a.Channel, a.Value, 0, BetweenLots))] });
        return check.RankWhenComplete(patches).FirstOrDefault(s => s.Class == SuspicionClass.Gross && check.IsDecisive(s));
    }

    private PlausibilityCheck Check(StripKnowledge knowledge)
    {
        var at = _kept.FindIndex(k => Same(k.Knowledge, knowledge));
        var kept = at >= 0 ? _kept[at] : (knowledge, new PlausibilityCheck(knowledge));
        if (at >= 0)
        {
            _kept.RemoveAt(at);
        }
        else if (_kept.Count == MostKept)
        {
            _kept.RemoveAt(MostKept - 1);
        }

        _kept.Insert(0, kept);
        return kept.Item2;
    }

    // Records that come from a file have sheets and aims of their own, alike in all but their place in memory.
    private static bool Same(StripKnowledge left, StripKnowledge right) =>
        Keys.Same(left.Sheet.Key, right.Sheet.Key)
        && left.Sheet.Status == right.Sheet.Status
        && left.Sheet.ChannelsNeeded.SequenceEqual(right.Sheet.ChannelsNeeded)
        && left.Layout.Patches.SequenceEqual(right.Layout.Patches)
        && left.Aims.SequenceEqual(right.Aims)
        && left.OtherLots.Select(o => o.Code).SequenceEqual(right.OtherLots.Select(o => o.Code))
        && (left.Instrument == right.Instrument || left.Instrument.IsAs(right.Instrument));
}
