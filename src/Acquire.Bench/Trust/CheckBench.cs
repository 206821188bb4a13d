using Acquire.Analysis.Gauge;
using Acquire.Bench.Guidance;
using Acquire.Bench.Sessions;
using Acquire.Domain.Sessions;
using Acquire.Instruments.Links;
using Acquire.Storage;

namespace Acquire.Bench.Trust;

/// <summary>Reads calibration checks at the instrument and keeps them.</summary>
public sealed class CheckBench(AcquireStore store, CheckBook book, ILinkOpener links, TimeProvider time)
{
    private readonly SessionRunner _runner = new(store, links, time);

    /// <summary>Reads every patch of a plaque.</summary>
    /// <exception cref="BenchException">The plaque is unknown.</exception>
    /// <exception cref="GaugeException">The readings fall where the plaque rises; they stay in the session.</exception>
    /// <exception cref="LinkException">The port cannot be opened.</exception>
    /// <exception cref="StoreException">The store cannot be used; nothing was read.</exception>
    public async Task<CheckResult> CheckAsync(SessionRequest request, string plaqueName, BenchSeat seat, CancellationToken cancellationToken)
    {
        var plaque = await book.GetPlaqueAsync(plaqueName, cancellationToken);
        JudgedCheck? kept = null;
        GaugeException? refused = null;
        var session = await _runner.RunAsync(
            SessionKind.CalibrationCheck,
            request with { PlaqueName = plaque.Name },
            new ReadingPlan(plaque.Layout, request.ReadsPerPatch, plaque.Channels),
            seat,
            async (begun, strip) =>
            {
                try
                {
                    kept = await book.KeepAsync(plaque, strip.Patches, begun.Provenance, begun.Id, CancellationToken.None);
                }
                catch (GaugeException fault)
                {
                    refused = fault;
                }
            },
            cancellationToken);
        return refused is null ? new CheckResult(session, kept) : throw refused;
    }
}
