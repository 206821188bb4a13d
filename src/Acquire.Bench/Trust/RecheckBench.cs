using Acquire.Bench.Guidance;
using Acquire.Bench.Lots;
using Acquire.Bench.Sessions;
using Acquire.Instruments.Links;
using Microsoft.Extensions.Logging;

namespace Acquire.Bench.Trust;

/// <summary>A reference strip that was read again, or as much of it as was.</summary>
/// <param name="Session">The session it was read in.</param>
/// <param name="Review">What it tells; null when the session did not complete.</param>
public sealed record RecheckResult(SessionResult Session, RecheckReview? Review);

/// <summary>Reads reference strips again and charts them.</summary>
public sealed class RecheckBench(AcquireStore store, LotBook lots, ILinkOpener links, TimeProvider time, ILogger logger)
{
    private readonly SessionRunner _runner = new(store, links, time, logger);

    /// <summary>What was read until now.</summary>
    /// <exception cref="BenchException">The lot is unknown or has no reference yet.</exception>
    /// <exception cref="Analysis.Gauge.GaugeException">The reference was not read again yet.</exception>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<RecheckReview> ReviewAsync(string lotCode, CancellationToken cancellationToken)
    {
        var (lot, _, inForce) = await lots.GetAsync(lotCode, cancellationToken);
        return RecheckReview.Of(inForce.Reference ?? throw NoReference(lot.Code), await store.ListRechecksAsync(lot.Code, cancellationToken));
    }

    /// <summary>Reads the reference strip of a lot again. The aims stay as they are.</summary>
    /// <exception cref="BenchException">The lot is unknown or has no reference yet.</exception>
    /// <exception cref="LinkException">The port cannot be opened.</exception>
    /// <exception cref="StoreException">The store cannot be used; nothing was read.</exception>
    public async Task<RecheckResult> RecheckAsync(SessionRequest request, BenchSeat seat, CancellationToken cancellationToken)
    {
        var (lot, sheet, inForce) = await lots.GetAsync(request.LotCode, cancellationToken);
        _ = inForce.Reference ?? throw NoReference(lot.Code);
        var plan = request.PlanFor(SessionPurpose.Recheck, lot.Layout, sheet.ChannelsNeeded);
        return await ResultAsync(
            await _runner.RunAsync<ReferenceRecheck>(request with { LotCode = lot.Code }, plan, seat, KeepAsync, cancellationToken));
    }

    /// <summary>Goes on with a reference strip that is read again.</summary>
    /// <exception cref="LinkException">The port cannot be opened; the session stays as it is.</exception>
    public async Task<RecheckResult> ResumeAsync(OpenSession session, BenchSeat seat, CancellationToken cancellationToken) =>
        await ResultAsync(await _runner.ResumeAsync<ReferenceRecheck>(session, seat, KeepAsync, cancellationToken));

    private async Task<RecheckResult> ResultAsync((SessionResult Session, ReferenceRecheck? Record) done) =>
        new(done.Session, done.Record is { LotCode: var lot } ? await ReviewAsync(lot, CancellationToken.None) : null);

    private Task<Func<StoreTransaction, ReferenceRecheck>> KeepAsync(OpenSession session, GuidedStrip strip)
    {
        var begun = session.Session;
        var recheck = new ReferenceRecheck(Guid.CreateVersion7(time.GetUtcNow()), begun.LotCode!, strip.Patches, begun.Provenance, begun.Id);
        return Task.FromResult<Func<StoreTransaction, ReferenceRecheck>>(writing =>
        {
            writing.AddRecheck(recheck);
            return recheck;
        });
    }

    private static BenchException NoReference(string lot) => new(
        $"Lot {lot} has no reference yet. Read it the first time with: acquire lot reference {lot} --port PORT --profile PROFILE");
}
