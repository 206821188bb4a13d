using Acquire.Analysis.Gauge;
using Acquire.Bench.Guidance;
using Acquire.Bench.Sessions;
using Acquire.Domain.Densitometry;
using Acquire.Domain.Sessions;
using Acquire.Domain.Strips;
using Acquire.Domain.Trust;
using Acquire.Instruments.Links;
using Acquire.Storage;

namespace Acquire.Bench.Trust;

/// <summary>Reads repeatability tests at the instrument and keeps them.</summary>
public sealed class RepeatabilityBench(AcquireStore store, ILinkOpener links, TimeProvider time)
{
    private readonly SessionRunner _runner = new(store, links, time);
    private readonly RepeatabilityBook _book = new(store);

    /// <summary>Reads some patches many times.</summary>
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
        var plan = request.PlanFor(SessionPurpose.Repeatability, patches, Channels.Colours, readsPerPlacement) with { Specification = specification };
        var before = await _book.LastReportAsync(request.Instrument.Profile.Name, cancellationToken);
        return ResultOf(await _runner.RunAsync<RepeatabilityTest>(request, plan, seat, KeepAsync, cancellationToken), before);
    }

    /// <summary>Goes on with a test.</summary>
    /// <exception cref="GaugeException">So much was left out that nothing is told; it stays in the session.</exception>
    /// <exception cref="LinkException">The port cannot be opened; the session stays as it is.</exception>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<RepeatabilityResult> ResumeAsync(OpenSession session, BenchSeat seat, CancellationToken cancellationToken)
    {
        var before = await _book.LastReportAsync(session.Plan.Profile.Name, cancellationToken);
        return ResultOf(await _runner.ResumeAsync<RepeatabilityTest>(session, seat, KeepAsync, cancellationToken), before);
    }

    private static RepeatabilityResult ResultOf((SessionResult Session, RepeatabilityTest? Test) done, RepeatabilityReport? before)
    {
        var report = done.Test is { } test ? RepeatabilityBook.ReportOf(test) : null;
        var comparison = before is not null && report is not null ? RepeatabilityComparison.Of(before, report) : null;
        return new RepeatabilityResult(done.Session, done.Test, report, comparison);
    }

    private async Task<RepeatabilityTest?> KeepAsync(OpenSession session, GuidedStrip strip, SessionEnd end)
    {
        var (begun, plan) = (session.Session, session.Plan);
        var specification = plan.Specification!.Value;
        var report = RepeatabilityStudy.Of(
            TestReads.Of(strip.Patches, plan.ReadsPerPlacement), RepeatabilitySpecification.Same(specification));
        var test = new RepeatabilityTest(
            Guid.CreateVersion7(time.GetUtcNow()), strip.Patches, plan.ReadsPerPlacement, specification, report.Passes, begun.Provenance, begun.Id);
        await store.AddRepeatabilityTestAsync(test, end, CancellationToken.None);
        return test;
    }
}
