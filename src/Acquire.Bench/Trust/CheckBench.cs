using Acquire.Analysis.Gauge;
using Acquire.Bench.Guidance;
using Acquire.Bench.Sessions;
using Acquire.Instruments.Links;
using Microsoft.Extensions.Logging;

namespace Acquire.Bench.Trust;

/// <summary>Reads calibration checks at the instrument and keeps them.</summary>
public sealed class CheckBench(AcquireStore store, CheckBook book, ILinkOpener links, TimeProvider time, ILogger logger)
{
    private readonly SessionRunner _runner = new(store, links, time, logger);

    /// <summary>Reads every patch of a plaque.</summary>
    /// <exception cref="BenchException">The plaque is unknown.</exception>
    /// <exception cref="GaugeException">The readings fall where the plaque rises; they stay in the session.</exception>
    /// <exception cref="LinkException">The port cannot be opened.</exception>
    /// <exception cref="StoreException">The store cannot be used; nothing was read.</exception>
    public async Task<CheckResult> CheckAsync(SessionRequest request, string plaqueName, BenchSeat seat, CancellationToken cancellationToken)
    {
        var plaque = await book.GetPlaqueAsync(plaqueName, cancellationToken);
        var plan = request.PlanFor(SessionPurpose.Check, plaque.Layout, plaque.Channels);
        return ResultOf(
            await _runner.RunAsync<JudgedCheck>(request with { PlaqueName = plaque.Name }, plan, seat, KeepAsync, cancellationToken));
    }

    /// <summary>Goes on with a check.</summary>
    /// <exception cref="GaugeException">The readings fall where the plaque rises; they stay in the session.</exception>
    /// <exception cref="LinkException">The port cannot be opened; the session stays as it is.</exception>
    public async Task<CheckResult> ResumeAsync(OpenSession session, BenchSeat seat, CancellationToken cancellationToken) =>
        ResultOf(await _runner.ResumeAsync<JudgedCheck>(session, seat, KeepAsync, cancellationToken));

    private static CheckResult ResultOf((SessionResult Session, JudgedCheck? Judged) done) => new(done.Session, done.Judged);

    private async Task<Func<StoreTransaction, JudgedCheck>> KeepAsync(OpenSession session, GuidedStrip strip)
    {
        var begun = session.Session;
        var plaque = await book.GetPlaqueAsync(begun.PlaqueName!, CancellationToken.None);
        var judged = await book.JudgeAsync(plaque, strip.Patches, begun.Provenance, begun.Id, CancellationToken.None);
        return writing =>
        {
            writing.AddCheck(judged.Check);
            return judged;
        };
    }
}
