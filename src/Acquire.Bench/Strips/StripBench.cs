using System.Collections.Immutable;
using Acquire.Analysis.Judgement;
using Acquire.Analysis.StripWork;
using Acquire.Bench.Guidance;
using Acquire.Bench.Lots;
using Acquire.Bench.Sessions;
using Acquire.Bench.Trust;
using Acquire.Domain.Lots;
using Acquire.Domain.Records;
using Acquire.Domain.Sessions;
using Acquire.Domain.Trust;
using Acquire.Instruments.Links;
using Acquire.Storage;
using Microsoft.Extensions.Logging;

namespace Acquire.Bench.Strips;

/// <summary>Reads control strips and reference strips, and keeps them with everything they are judged by.</summary>
public sealed class StripBench(AcquireStore store, LotBook lots, ILinkOpener links, TimeProvider time, ILogger<ReconnectingLink>? logger = null)
{
    private readonly SessionRunner _runner = new(store, links, time, logger);

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
        SessionRequest request, StripTags tags, BenchSeat seat, CancellationToken cancellationToken)
    {
        var entry = await lots.GetAsync(request.LotCode, cancellationToken);
        var lot = entry.Lot;
        StripChecks.Require(entry, tags);
        var sheet = tags.Reread?.JudgedBy ?? entry.Sheet;
        var plan = new ReadingPlan(lot.Layout, request.ReadsPerPatch, sheet.ChannelsNeeded);
        var tests = new RepeatabilityBook(store);
        var repeatability = await tests.InForceAsync(request.Instrument.Profile.Name, cancellationToken);
        var aims = tags.Reread?.Aims ?? entry.AimsInForce(await tests.InForceForAsync(entry.Reference, cancellationToken));
        StripRecord? kept = null;
        var session = await _runner.RunAsync(
            SessionKind.Strip,
            request with { LotCode = lot.Code },
            plan,
            seat,
            async (begun, strip) =>
            {
                var record = Record(begun, strip, entry, aims, repeatability, tags);
                await store.AddStripAsync(record, CancellationToken.None);
                kept = record;
            },
            cancellationToken);
        return new StripResult(session, kept, kept is null ? null : StripJudge.Judge(kept))
        {
            Ties = kept is null ? null : new StripTies(
                tags.Confirms is { } first ? SecondStrip.Of(first, kept) : null,
                tags.Reread is { } before ? SecondReading.Of(before, kept) : null),
        };
    }

    /// <summary>Reads the reference strip of a lot from the instrument; its readings become the lot's aims.</summary>
    /// <exception cref="BenchException">The lot is unknown.</exception>
    /// <exception cref="LinkException">The port cannot be opened.</exception>
    /// <exception cref="StoreException">The store cannot be used; nothing was read.</exception>
    public async Task<ReferenceResult> ReadReferenceAsync(
        SessionRequest request, string reason, BenchSeat seat, CancellationToken cancellationToken)
    {
        var (lot, sheet, _) = await lots.GetAsync(request.LotCode, cancellationToken);
        var plan = new ReadingPlan(lot.Layout, request.ReadsPerPatch, sheet.ChannelsNeeded);
        LotReference? kept = null;
        var session = await _runner.RunAsync(
            SessionKind.LotReference,
            request with { LotCode = lot.Code },
            plan,
            seat,
            async (begun, strip) =>
            {
                var now = time.GetUtcNow();
                var revision = Revision.First(begun.Provenance.By, now, reason);
                var reference = new LotReference(Guid.CreateVersion7(now), lot.Code, strip.Patches, begun.Provenance, revision, begun.Id);
                await store.AddReferenceAsync(reference, CancellationToken.None);
                kept = reference;
            },
            cancellationToken);
        var inForce = await new RepeatabilityBook(store).InForceForAsync(kept, CancellationToken.None);
        return new ReferenceResult(session, kept, kept is null ? [] : Aims.Of(lot, kept, inForce)) { Repeatability = inForce };
    }

    private StripRecord Record(
        BenchSession session, GuidedStrip strip, LotEntry entry, ImmutableArray<Aim> aims, RepeatabilityInForce? repeatability, StripTags tags) =>
        new(
            Guid.CreateVersion7(time.GetUtcNow()),
            entry.Lot.Code,
            entry.Lot.Layout,
            tags.Reread?.JudgedBy ?? entry.Sheet,
            strip.Patches,
            PatchMeans.Of(strip.Patches),
            aims,
            session.Provenance,
            Revision.First(session.Provenance.By, time.GetUtcNow(), "read at the bench"))
        {
            ReferenceId = tags.Reread is { } first ? first.ReferenceId : entry.Reference?.Id,
            SessionId = session.Id,
            CheckId = tags.CheckId,
            CheckLacking = tags.CheckLacking,
            Repeatability = repeatability,
            Line = tags.Line,
            Bottle = tags.Bottle,
            Note = tags.Note,
            Handling = tags.Handling,
            Confirms = tags.Confirms?.Id,
            RereadOf = tags.Reread?.Id,
            Treatment = tags.Reread is null ? null : tags.Treatment,
            PairedWith = tags.PairedWith?.Id,
        };
}
