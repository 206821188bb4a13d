using Acquire.Analysis.Gauge;
using Acquire.Bench.Guidance;
using Acquire.Bench.Sessions;
using Acquire.Domain.Sessions;
using Acquire.Domain.Strips;
using Acquire.Instruments.Links;
using Acquire.Instruments.Profiles;
using Acquire.Storage;

namespace Acquire.Bench.Trust;

/// <summary>Reads repeatability tests at the instrument and keeps them.</summary>
public sealed class RepeatabilityBench(AcquireStore store, ILinkOpener links, TimeProvider time)
{
    private readonly SessionRunner _runner = new(store, links, time);
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
        var channels = ReadingChannels.Always(request.Instrument.Profile);
        var plan = new ReadingPlan(patches, request.ReadsPerPatch, channels) { ReadsPerPlacement = readsPerPlacement };
        KeptTest? kept = null;
        GaugeException? refused = null;
        var session = await _runner.RunAsync(
            SessionKind.Repeatability,
            request,
            plan,
            seat,
            async (begun, strip) =>
            {
                try
                {
                    kept = await _entry.KeepAsync(
                        strip.Patches, readsPerPlacement, specification, begun.Provenance, begun.Id, CancellationToken.None);
                }
                catch (GaugeException fault)
                {
                    refused = fault;
                }
            },
            cancellationToken);
        return refused is null ? new RepeatabilityResult(session, kept) : throw refused;
    }
}
