using Acquire.Analysis.Plausibility;
using Acquire.Bench.Books;
using Acquire.Bench.Guidance;
using Acquire.Bench.Lots;
using Acquire.Bench.Sessions;
using Acquire.Bench.Trust;
using Acquire.Instruments.Links;
using Microsoft.Extensions.Logging;

namespace Acquire.Bench.Strips;

/// <summary>Reads control strips and reference strips, and keeps them with everything they are judged by.</summary>
public sealed class StripBench(AcquireStore store, LotBook lots, ILinkOpener links, TimeProvider time, ILogger logger)
{
    private readonly SessionRunner _runner = new(store, links, time, logger);
    private readonly RepeatabilityBook _repeatability = new(store);
    private readonly StripKnowledgeBook _knowledge = new(store, lots);
    private readonly DarkroomBooks _books = new(store, time);

    /// <summary>
    /// Reads a control strip of a lot whose aims are known, or one that is to make them. A strip that is read again is judged by the
    /// aims and limits that it was judged by the first time.
    /// </summary>
    /// <exception cref="BenchException">
    /// The lot is unknown, or has no reference yet and the strip is for no baseline; or the strip cannot be the one that is to be read again.
    /// </exception>
    /// <exception cref="LinkException">The port cannot be opened.</exception>
    /// <exception cref="StoreException">The store cannot be used; nothing was read.</exception>
    public async Task<StripResult> ReadStripAsync(
        SessionRequest request, StripRequest strip, BenchSeat seat, CancellationToken cancellationToken)
    {
        var entry = await lots.GetAsync(request.LotCode, cancellationToken);
        var sheet = (await StripChecks.RequireAsync(store, entry, strip, cancellationToken))?.JudgedBy ?? entry.Sheet;
        var plan = request.PlanFor(SessionPurpose.Strip, entry.Lot.Layout, sheet.ChannelsNeeded) with
        {
            Sheet = sheet,
            Reference = entry.Reference is { } reference ? (reference.Id, reference.Revision.Number) : null,
            RepeatabilityId = (await _repeatability.InForceAsync(request.Instrument.Profile.Name, cancellationToken))?.TestId,
            CheckId = strip.CheckId,
            CheckLacking = strip.CheckLacking,
            Tags = strip.Tags,
            RanAt = strip.RanAt,
        };
        return await ResultAsync(await _runner.RunAsync<KeptStrip>(request with { LotCode = entry.Lot.Code }, plan, seat, KeepStripAsync, cancellationToken, KnownAsync));
    }

    /// <summary>Goes on with a control strip.</summary>
    /// <exception cref="LinkException">The port cannot be opened; the session stays as it is.</exception>
    public async Task<StripResult> ResumeStripAsync(OpenSession session, BenchSeat seat, CancellationToken cancellationToken) =>
        await ResultAsync(await _runner.ResumeAsync<KeptStrip>(session, seat, KeepStripAsync, cancellationToken, KnownAsync));

    /// <summary>Reads the reference strip of a lot from the instrument; its readings become the lot's aims.</summary>
    /// <exception cref="BenchException">The lot is unknown.</exception>
    /// <exception cref="LinkException">The port cannot be opened.</exception>
    /// <exception cref="StoreException">The store cannot be used; nothing was read.</exception>
    public async Task<ReferenceResult> ReadReferenceAsync(
        SessionRequest request, string reason, BenchSeat seat, CancellationToken cancellationToken)
    {
        var (lot, sheet, _) = await lots.GetAsync(request.LotCode, cancellationToken);
        var plan = request.PlanFor(SessionPurpose.Reference, lot.Layout, sheet.ChannelsNeeded) with { Reason = reason };
        return await ResultAsync(
            await _runner.RunAsync<LotReference>(request with { LotCode = lot.Code }, plan, seat, KeepReferenceAsync, cancellationToken, KnownAsync));
    }

    /// <summary>Goes on with a reference strip.</summary>
    /// <exception cref="LinkException">The port cannot be opened; the session stays as it is.</exception>
    public async Task<ReferenceResult> ResumeReferenceAsync(OpenSession session, BenchSeat seat, CancellationToken cancellationToken) =>
        await ResultAsync(await _runner.ResumeAsync<LotReference>(session, seat, KeepReferenceAsync, cancellationToken, KnownAsync));

    private async Task<StripResult> ResultAsync((SessionResult Session, KeptStrip? Kept) done)
    {
        if (done.Kept is not (var record, var entered))
        {
            return new StripResult(done.Session, null, null);
        }

        return new StripResult(done.Session, record, (await StripJudging.LoadAsync(store, CancellationToken.None)).Judge(record))
        {
            Ties = await StripTies.OfAsync(store, record, CancellationToken.None),
            Context = StripContext.Of(
                entered.Books, record, await store.FindLotAsync(record.LotCode, CancellationToken.None), time.LocalTimeZone),
            Warnings = entered.Warnings,
        };
    }

    private async Task<ReferenceResult> ResultAsync((SessionResult Session, LotReference? Reference) done)
    {
        if (done.Reference is not { } reference)
        {
            return new ReferenceResult(done.Session, null, []);
        }

        var past = await lots.PastAsync(reference.LotCode, CancellationToken.None);
        var inForce = past.At(DateTimeOffset.MaxValue, (reference.Id, reference.Revision.Number));
        return new ReferenceResult(done.Session, reference, inForce.Aims) { Repeatability = inForce.Repeatability };
    }

    private Task<Func<StoreTransaction, LotReference>> KeepReferenceAsync(OpenSession session, GuidedStrip strip)
    {
        var now = time.GetUtcNow();
        var (begun, plan) = (session.Session, session.Plan);
        var revision = Revision.First(begun.Provenance.By, now, plan.Reason!);
        var reference = new LotReference(Guid.CreateVersion7(now), begun.LotCode!, strip.Patches, begun.Provenance, revision, begun.Id);
        return Task.FromResult<Func<StoreTransaction, LotReference>>(writing =>
        {
            writing.AddReference(reference);
            return reference;
        });
    }

    /// <summary>Everything that the strip is judged by is what was in force when its session began.</summary>
    private async Task<Func<StoreTransaction, KeptStrip>> KeepStripAsync(OpenSession session, GuidedStrip strip)
    {
        var (begun, plan, now) = (session.Session, session.Plan, time.GetUtcNow());
        var first = await FirstAsync(begun, plan);
        var record = new StripRecord(
            Guid.CreateVersion7(now),
            begun.LotCode!,
            plan.Layout,
            plan.Sheet!,
            strip.Patches,
            PatchMeans.Of(strip.Patches),
            await AimsAsync(begun, plan),
            begun.Provenance,
            Revision.First(begun.Provenance.By, now, "read at the bench"))
        {
            ReferenceId = first is not null ? first.ReferenceId : plan.Reference?.Id,
            SessionId = begun.Id,
            CheckId = plan.CheckId,
            CheckLacking = plan.CheckLacking,
            Repeatability = plan.RepeatabilityId is { } test ? await _repeatability.InForceAsync(test, CancellationToken.None) : null,
            Tags = plan.Tags,
            Questions = session.Progress.Questions.ToRecord(plan.Layout),
        };
        var lot = (await store.FindLotAsync(record.LotCode, CancellationToken.None))!;
        return writing =>
        {
            writing.AddStrip(record);
            return new KeptStrip(record, Enter(writing, lot, record, (plan.RanAt ?? begun.Provenance.At).ToUniversalTime()));
        };
    }

    /// <summary>Counts the strip's own area through the line and the bottles that its record names, and takes it off the lot's stock.</summary>
    private Entered Enter(StoreTransaction writing, StripLot lot, StripRecord record, DateTimeOffset ranAt) => _books.Enter(
        writing,
        record.Provenance.By,
        ranAt,
        (books, stamp) => StripRun.Of(books, lot.ProcessKey, record.Tags.Line, record.Tags.Bottle, ranAt, fillIn: false).Entries(books, lot.Code, record.Id, stamp));

    /// <summary>What a strip is held against while it is read; the strip that makes aims has none of them.</summary>
    private async Task<StripKnowledge?> KnownAsync(OpenSession session, CancellationToken cancellationToken)
    {
        var (begun, plan) = (session.Session, session.Plan);
        var sheet = plan.Sheet ?? (await lots.GetAsync(begun.LotCode!, cancellationToken)).Sheet;
        var aims = plan.Purpose == SessionPurpose.Strip ? await AimsAsync(begun, plan) : [];
        var inForce = plan.RepeatabilityId is { } test ? await _repeatability.InForceAsync(test, cancellationToken) : null;
        return await _knowledge.OfAsync(begun, plan, sheet, aims, inForce, cancellationToken);
    }

    private async Task<StripRecord?> FirstAsync(BenchSession begun, SessionPlan plan) =>
        plan.Tags.Reread is { Of: var id } ? await InForceAsync(id, begun.Provenance.At) : null;

    /// <summary>The aims of the first reading of this very strip; else those by the reference, the crossover and the test that were in force when the session began; none for a strip of a baseline.</summary>
    private async Task<ImmutableArray<Aim>> AimsAsync(BenchSession begun, SessionPlan plan)
    {
        if (await FirstAsync(begun, plan) is { } first)
        {
            return first.Aims;
        }

        if (plan.Reference is not { } settled)
        {
            return [];
        }

        return (await lots.PastAsync(begun.LotCode!, CancellationToken.None)).At(begun.Provenance.At, settled).Aims;
    }

    private async Task<StripRecord?> InForceAsync(Guid strip, DateTimeOffset at)
    {
        var revisions = await store.StripRevisionsAsync(strip, CancellationToken.None);
        return revisions.LastOrDefault(r => r.Revision.At <= at) ?? (revisions.Count > 0 ? revisions[0] : null);
    }

    private sealed record KeptStrip(StripRecord Record, Entered Entered);
}
