using Acquire.Analysis.Judgement;
using Acquire.Bench.Books;
using Acquire.Bench.Lots;
using Acquire.Storage.Records;

namespace Acquire.Bench.Strips;

/// <summary>A strip with what is made of it.</summary>
public sealed record JudgedStrip(StripRecord Strip, StripJudgement Judgement);

/// <summary>A strip that is to be shown.</summary>
/// <param name="Strip">Its id or a part of it.</param>
/// <param name="Level">Probability that verdicts ask for.</param>
/// <param name="Revision">Which revision; null for the newest.</param>
public sealed record StripShowRequest(string Strip, double Level, int? Revision = null);

/// <summary>A strip with all that is known of it.</summary>
/// <param name="Ties">What it says about the strip it confirms, or about its own earlier reading.</param>
/// <param name="Context">What the books say about it; null when they know nothing of it.</param>
public sealed record ShownStrip(StripRecord Strip, StripJudgement Judgement, StripTies Ties, StripContext? Context);

/// <summary>Strips that ran at one state of the process, taken together.</summary>
public sealed record StripsTogether(ImmutableArray<StripRecord> Strips, ImmutableArray<CombinedResult> Results)
{
    public bool IsOutOfControl => WholeStrip.SurelyOut(Results.Select(c => c.Verdict).OfType<VerdictResult>()).Count > 0;
}

/// <summary>A record that is to be corrected.</summary>
/// <param name="Strip">Its id or a part of it.</param>
/// <param name="Lot">Code number of the lot it is really of; null to keep the lot.</param>
public sealed record AmendRequest(string Strip, StripAmendment Amendment, string? Lot = null);

/// <summary>A record that was corrected, with what is made of it now.</summary>
public sealed record AmendedStrip(StripRecord Before, StripRecord After, StripJudgement Judgement);

/// <summary>The strip records in the store.</summary>
/// <remarks>
/// Every member throws <see cref="BenchException"/> when there is no such strip, and <see cref="StoreException"/> when the store cannot be
/// used or a part of an id fits more than one strip.
/// </remarks>
public sealed class StripBook(AcquireStore store, LotBook lots, TimeProvider time)
{
    /// <param name="level">Probability that verdicts ask for.</param>
    public async Task<ImmutableArray<JudgedStrip>> ListAsync(StripFilter filter, double level, CancellationToken cancellationToken)
    {
        var judging = await StripJudging.LoadAsync(store, cancellationToken, level);
        return [.. await store.ListStripsAsync(filter, cancellationToken)
            .Select(s => new JudgedStrip(s, judging.Judge(s)))
            .ToListAsync(cancellationToken)];
    }

    public async Task<ShownStrip> ShowAsync(StripShowRequest request, CancellationToken cancellationToken)
    {
        var strip = await store.GetStripAsync(request.Strip, cancellationToken);
        if (request.Revision is { } number)
        {
            var all = await store.StripRevisionsAsync(strip.Id, cancellationToken);
            strip = all.FirstOrDefault(r => r.Revision.Number == number)
                ?? throw new BenchException(
                    $"Strip {request.Strip} has no revision {number}; it has 1 to {all.Count}.") { IsNotThere = true };
        }

        var judging = await StripJudging.LoadAsync(store, cancellationToken, request.Level);
        return new ShownStrip(
            strip,
            judging.Judge(strip),
            await StripTies.OfAsync(store, strip, judging, cancellationToken),
            await new DarkroomBooks(store, time).ContextAsync(strip, cancellationToken));
    }

    /// <summary>Takes strips together.</summary>
    /// <param name="ids">Their ids or parts of them.</param>
    /// <param name="level">Probability that verdicts ask for.</param>
    /// <exception cref="BenchException">One stands twice, or they are not of one process.</exception>
    public async Task<StripsTogether> TogetherAsync(IEnumerable<string> ids, double level, CancellationToken cancellationToken)
    {
        var strips = new List<StripRecord>();
        foreach (var id in ids)
        {
            strips.Add(await store.GetStripAsync(id, cancellationToken));
        }

        if (strips.DistinctBy(s => s.Id).Count() < strips.Count || strips.DistinctBy(s => s.JudgedBy.Key).Count() > 1)
        {
            throw new BenchException("Strips that are taken together are different strips of one process.");
        }

        var judging = await StripJudging.LoadAsync(store, cancellationToken, level);
        return new StripsTogether([.. strips], CombinedResult.Of([.. strips.Select(judging.Judge)], level));
    }

    /// <summary>Every revision of a record, first to newest.</summary>
    public async Task<IReadOnlyList<StripRecord>> HistoryAsync(string id, CancellationToken cancellationToken) =>
        await store.StripRevisionsAsync((await store.GetStripAsync(id, cancellationToken)).Id, cancellationToken);

    /// <summary>Keeps a correction as the next revision, judged by the lot as it stood when the strip was read.</summary>
    /// <exception cref="BenchException">Nothing would change, or the lot or a read is not there.</exception>
    /// <exception cref="Domain.ImpossibleValueException">A reason is empty.</exception>
    public async Task<AmendedStrip> AmendAsync(AmendRequest request, CancellationToken cancellationToken)
    {
        var strip = await store.GetStripAsync(request.Strip, cancellationToken);
        var amendment = request.Lot is not { } code
            ? request.Amendment
            : request.Amendment with { Lot = await lots.GetAtAsync(code, strip.Provenance.At, cancellationToken) };
        var (before, after) = await amendment.KeepAsync(store, strip.Id, time, cancellationToken);
        return new AmendedStrip(before, after, (await StripJudging.LoadAsync(store, cancellationToken)).Judge(after));
    }
}
