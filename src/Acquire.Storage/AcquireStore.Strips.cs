using System.Runtime.CompilerServices;
using Acquire.Storage.Records;

namespace Acquire.Storage;

public sealed partial class AcquireStore
{
    /// <summary>How many strips are read at a time: few enough for the memory and for the writer's checkpoints.</summary>
    private const int Page = 64;

    /// <summary>Adds a strip, or a correction of one.</summary>
    /// <exception cref="StoreException">
    /// The revision is not 1 for a new strip, or not the next one for a strip that is there (<see cref="StoreFault.Conflict"/>); no such
    /// lot, session or reference (<see cref="StoreFault.NotFound"/>).
    /// </exception>
    public Task AddStripAsync(StripRecord strip, CancellationToken cancellationToken) =>
        WriteAsync(db => StripWriter.Add(db, strip, _time.GetUtcNow()), cancellationToken);

    /// <summary>
    /// The newest revision of the strip whose id is given, or a beginning or end of it of four hexadecimal digits or more; hyphens may be
    /// left out. Null when there is none.
    /// </summary>
    /// <exception cref="StoreException">
    /// The part fits more than one strip (<see cref="StoreFault.Ambiguous"/>), or the strip is not as it was written
    /// (<see cref="StoreFault.Damaged"/>).
    /// </exception>
    public Task<StripRecord?> FindStripAsync(string idOrPart, CancellationToken cancellationToken) => ReadAsync(
        db => StripQueries.Find(db, idOrPart) is { } revision
            ? new StripLoader().Load(db, [revision]) is [var strip]
                ? strip
                : throw new StoreException(
                    StoreFault.Damaged,
                    $"{FilePath}: the strip {idOrPart} is not as it was written, and is not shown. Look with: acquire verify")
            : null,
        cancellationToken);

    /// <summary>All revisions of a strip, first to newest; empty when there is none.</summary>
    public Task<IReadOnlyList<StripRecord>> StripRevisionsAsync(Guid id, CancellationToken cancellationToken) =>
        ReadAsync<IReadOnlyList<StripRecord>>(db => new StripLoader().Load(db, StripQueries.Revisions(db, id)), cancellationToken);

    /// <summary>
    /// The newest revision of each strip that the filter lets through, in the order of reading. What is listed was settled when the listing
    /// began: strips and revisions added meanwhile are not in it. Only a few strips at a time are in memory.
    /// </summary>
    public async IAsyncEnumerable<StripRecord> ListStripsAsync(
        StripFilter filter, [EnumeratorCancellation] CancellationToken cancellationToken)
    {
        var loader = new StripLoader();
        foreach (var page in (await ReadAsync(db => StripQueries.Newest(db, filter), cancellationToken)).Chunk(Page))
        {
            foreach (var strip in await ReadAsync(db => loader.Load(db, page), cancellationToken))
            {
                yield return strip;
            }
        }
    }
}
