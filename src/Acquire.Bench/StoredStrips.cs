namespace Acquire.Bench;

/// <summary>Strips as a user names them.</summary>
public static class StoredStrips
{
    /// <summary>The strip of an id, or of a part of one, in its newest revision.</summary>
    /// <exception cref="BenchException">There is none such.</exception>
    /// <exception cref="StoreException">The store cannot be read, or the part fits more than one strip.</exception>
    public static async Task<StripRecord> GetStripAsync(this AcquireStore store, string idOrPart, CancellationToken cancellationToken) =>
        await store.FindStripAsync(idOrPart, cancellationToken)
        ?? throw new BenchException($"There is no strip {idOrPart}. See: acquire strip list") { IsNotThere = true };
}
