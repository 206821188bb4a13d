using Acquire.Analysis.Judgement;
using Acquire.Bench.Guidance;
using Acquire.Bench.Lots;
using Acquire.Bench.Sessions;
using Acquire.Bench.Trust;
using Acquire.Domain.Lots;
using Acquire.Domain.Records;
using Acquire.Domain.Sessions;
using Acquire.Instruments.Links;
using Acquire.Storage;
using Microsoft.Extensions.Logging;

namespace Acquire.Bench.Strips;

/// <summary>Reads control strips and reference strips, and keeps them with everything they are judged by.</summary>
public sealed class StripBench(AcquireStore store, LotBook lots, ILinkOpener links, TimeProvider time, ILogger<ReconnectingLink>? logger = null)
{
    private readonly SessionRunner _runner = new(store, links, time, logger);
    private readonly RepeatabilityBook _repeatability = new(store);

    /// <summary>Reads a control strip of a lot whose aims are known.</summary>
    /// <exception cref="BenchException">The lot is unknown or has no reference yet.</exception>
    /// <exception cref="LinkException">The port cannot be opened.</exception>
    /// <exception cref="StoreException">The store cannot be used; nothing was read.</exception>
    public async Task<StripResult> ReadStripAsync(
        SessionRequest request, StripTags tags, BenchSeat seat, CancellationToken cancellationToken)
    {
        var (lot, sheet, current) = await lots.GetAsync(request.LotCode, cancellationToken);
        var reference = current
            ?? throw new BenchException(
                $"Lot {lot.Code} has no reference yet, so there are no aims to judge by. Read the reference strip first: "
                + $"acquire lot reference {lot.Code} --port PORT --profile PROFILE");
        var repeatability = await _repeatability.InForceAsync(request.Instrument.Profile.Name, cancellationToken);
        var plan = request.PlanFor(SessionPurpose.Strip, lot.Layout, sheet.ChannelsNeeded) with
        {
            Sheet = sheet,
            Reference = (reference.Id, reference.Revision.Number),
            RepeatabilityId = repeatability?.TestId,
            CheckId = tags.CheckId,
            CheckLacking = tags.CheckLacking,
            Line = tags.Line,
            Bottle = tags.Bottle,
            Note = tags.Note,
        };
        return ResultOf(await _runner.RunAsync<StripRecord>(request with { LotCode = lot.Code }, plan, seat, KeepStripAsync, cancellationToken));
    }

    /// <summary>Goes on with a control strip.</summary>
    /// <exception cref="LinkException">The port cannot be opened; the session stays as it is.</exception>
    public async Task<StripResult> ResumeStripAsync(OpenSession session, BenchSeat seat, CancellationToken cancellationToken) =>
        ResultOf(await _runner.ResumeAsync<StripRecord>(session, seat, KeepStripAsync, cancellationToken));

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
            await _runner.RunAsync<LotReference>(request with { LotCode = lot.Code }, plan, seat, KeepReferenceAsync, cancellationToken));
    }

    /// <summary>Goes on with a reference strip.</summary>
    /// <exception cref="LinkException">The port cannot be opened; the session stays as it is.</exception>
    public async Task<ReferenceResult> ResumeReferenceAsync(OpenSession session, BenchSeat seat, CancellationToken cancellationToken) =>
        await ResultAsync(await _runner.ResumeAsync<LotReference>(session, seat, KeepReferenceAsync, cancellationToken));

    private static StripResult ResultOf((SessionResult Session, StripRecord? Record) done) =>
        new(done.Session, done.Record, done.Record is null ? null : StripJudge.Judge(done.Record));

    private async Task<ReferenceResult> ResultAsync((SessionResult Session, LotReference? Reference) done) => new(
        done.Session,
        done.Reference,
        done.Reference is null ? [] : Aims.Of((await store.FindLotAsync(done.Reference.LotCode, CancellationToken.None))!, done.Reference));

    private async Task<LotReference?> KeepReferenceAsync(OpenSession session, GuidedStrip strip, SessionEnd end)
    {
        var now = time.GetUtcNow();
        var (begun, plan) = (session.Session, session.Plan);
        var revision = Revision.First(begun.Provenance.By, now, plan.Reason!);
        var reference = new LotReference(Guid.CreateVersion7(now), begun.LotCode!, strip.Patches, begun.Provenance, revision, begun.Id);
        await store.AddReferenceAsync(reference, end, CancellationToken.None);
        return reference;
    }

    /// <summary>Everything that the strip is judged by is what was in force when its session began.</summary>
    private async Task<StripRecord?> KeepStripAsync(OpenSession session, GuidedStrip strip, SessionEnd end)
    {
        var (begun, plan, now) = (session.Session, session.Plan, time.GetUtcNow());
        var lot = (await store.FindLotAsync(begun.LotCode!, CancellationToken.None))!;
        var (referenceId, revision) = plan.Reference!.Value;
        var reference = (await store.ReferenceRevisionsAsync(referenceId, CancellationToken.None)).Single(r => r.Revision.Number == revision);
        var repeatability = plan.RepeatabilityId is { } test ? await _repeatability.InForceAsync(test, CancellationToken.None) : null;
        var record = new StripRecord(
            Guid.CreateVersion7(now),
            lot.Code,
            plan.Layout,
            plan.Sheet!,
            strip.Patches,
            PatchMeans.Of(strip.Patches),
            Aims.Of(lot, reference, repeatability),
            begun.Provenance,
            Revision.First(begun.Provenance.By, now, "read at the bench"))
        {
            ReferenceId = reference.Id,
            SessionId = begun.Id,
            CheckId = plan.CheckId,
            CheckLacking = plan.CheckLacking,
            Repeatability = repeatability,
            Line = plan.Line,
            Bottle = plan.Bottle,
            Note = plan.Note,
        };
        await store.AddStripAsync(record, end, CancellationToken.None);
        return record;
    }
}
