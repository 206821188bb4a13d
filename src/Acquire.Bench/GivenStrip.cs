namespace Acquire.Bench;

/// <summary>Strips as people name them: by the id, or enough of its end.</summary>
public static class GivenStrip
{
    /// <exception cref="BenchException">There is no such strip.</exception>
    /// <exception cref="StoreException">Several fit, or the store cannot be read.</exception>
    public static async Task<StripRecord> FindAsync(AcquireStore store, string idOrPart, CancellationToken cancellationToken) =>
        await store.FindStripAsync(idOrPart, cancellationToken)
            ?? throw new BenchException($"There is no strip {idOrPart}. See: acquire strip list");
}
