using Acquire.Instruments.ProfileFiles;
using Acquire.Analysis.Gauge;
using Acquire.Bench.Guidance;
using Acquire.Bench.Sessions;
using Acquire.Instruments.Links;
using Microsoft.Extensions.Logging;

namespace Acquire.Bench.Trust;

/// <summary>Reads repeatability tests at the instrument and keeps them.</summary>
public sealed class RepeatabilityBench(AcquireStore store, ILinkOpener links, TimeProvider time, ILogger logger)
{
    private readonly SessionRunner _runner = new(store, links, time, logger);
    private readonly RepeatabilityEntry _entry = new(store, time);

    /// <summary>Reads some patches many times, in the channels that the instrument sends with every reading.</summary>
    /// <param name="request">Who, with what, and how many reads of each patch.</param>
    /// <param name="patches">The patches, any the user has.</param>
    /// <param name="readsPerPlacement">How many reads follow each other without moving the patch; divides the number of reads.</param>
    /// <param name="specification">The largest standard deviation that passes, in density.</param>
    /// <param name="seat">The person.</param>
    /// <param name="cancellationToken">Cancels the session.</param>
    /// <exception cref="BenchException">A patch is to be read once only.</exception>
    /// <exception cref="GaugeException">The specification is not above 0, or so much was left out that nothing is told; it stays in the session.</exception>
    /// <exception cref="LinkException">The port cannot be opened.</exception>
    /// <exception cref="StoreException">The store cannot be used; nothing was read.</exception>
    public async Task<RepeatabilityResult> TestAsync(
        SessionRequest request,
        StripLayout patches,
        int readsPerPlacement,
        double specification,
        BenchSeat seat,
        CancellationToken cancellationToken)
    {
        if (request.ReadsPerPatch < 2)
        {
            throw new BenchException("A repeatability test needs two reads of each patch at least, better ten.");
        }

        _ = RepeatabilitySpecification.Same(specification);
        var plan = request.PlanFor(SessionPurpose.Repeatability, patches, ReadingChannels.Always(request.Instrument.Profile), readsPerPlacement) with
        {
            Specification = specification,
        };
        return ResultOf(await _runner.RunAsync<KeptTest>(request, plan, seat, KeepAsync, cancellationToken));
    }

    /// <summary>Goes on with a test.</summary>
    /// <exception cref="GaugeException">So much was left out that nothing is told; it stays in the session.</exception>
    /// <exception cref="LinkException">The port cannot be opened; the session stays as it is.</exception>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<RepeatabilityResult> ResumeAsync(OpenSession session, BenchSeat seat, CancellationToken cancellationToken) =>
        ResultOf(await _runner.ResumeAsync<KeptTest>(session, seat, KeepAsync, cancellationToken));

    private static RepeatabilityResult ResultOf((SessionResult Session, KeptTest? Kept) done) => new(done.Session, done.Kept);

    private async Task<Func<StoreTransaction, KeptTest>> KeepAsync(OpenSession session, GuidedStrip strip)
    {
        var (begun, plan) = (session.Session, session.Plan);
        var judged = await _entry.JudgeAsync(
            strip.Patches, plan.ReadsPerPlacement, plan.Specification!.Value, begun.Provenance, begun.Id, CancellationToken.None);
        return writing =>
        {
            writing.AddRepeatabilityTest(judged.Test);
            return judged;
        };
    }
}

/// <summary>A repeatability test that was read, or as much of it as was.</summary>
/// <param name="Session">The session it was read in.</param>
/// <param name="Kept">The test with what it tells; null when the session did not complete.</param>
public sealed record RepeatabilityResult(SessionResult Session, KeptTest? Kept);
