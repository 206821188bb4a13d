using Acquire.Analysis.StripWork;

namespace Acquire.Bench.Strips;

/// <summary>What a stored strip says about the strip that it was run to confirm, or about its own earlier reading.</summary>
/// <param name="Confirmation">About the strip it confirms; null when it confirms none.</param>
/// <param name="Again">What has changed since it was read before; null when it was not.</param>
public sealed record StripTies(SecondStrip? Confirmation, SecondReading? Again)
{
    /// <summary>Looks the other strips up, each in its newest revision.</summary>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public static async Task<StripTies> OfAsync(AcquireStore store, StripRecord strip, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(store);
        ArgumentNullException.ThrowIfNull(strip);
        var first = await FindAsync(store, strip.Tags.Confirms, cancellationToken);
        var before = await FindAsync(store, strip.Tags.Reread?.Of, cancellationToken);

        // A correction may have given one of the two another lot; then they have nothing to say about each other any more.
        var isSame = before is not null && Keys.Same(before.LotCode, strip.LotCode);
        return new StripTies(first is null ? null : SecondStrip.Of(first, strip), isSame ? SecondReading.Of(before!, strip) : null);
    }

    private static async Task<StripRecord?> FindAsync(AcquireStore store, Guid? id, CancellationToken cancellationToken) =>
        id is { } given ? await store.FindStripAsync(given.ToString(), cancellationToken) : null;
}
