using Acquire.Storage.Import;

namespace Acquire.Storage;

public sealed partial class AcquireStore
{
    /// <summary>
    /// Imports the strips of a file: all of them, or none. The strips are taken one by one in one transaction; other writers wait until it
    /// has ended.
    /// </summary>
    /// <param name="strips">The strips in the order of the file. What it throws ends the import, and nothing is written.</param>
    /// <param name="source">The file.</param>
    /// <param name="told">Called for each strip with what becomes of it, on another thread.</param>
    /// <param name="keep">Asked after the last strip whether to keep them: a dry run says no.</param>
    /// <param name="cancellationToken">Cancels; then nothing is written.</param>
    /// <returns>Whether the strips were kept.</returns>
    /// <exception cref="ImportException">A strip cannot be imported; the message says file and line.</exception>
    public Task<bool> ImportStripsAsync(
        IAsyncEnumerable<IncomingStrip> strips,
        ImportSource source,
        Action<ImportedEntry> told,
        Func<bool> keep,
        CancellationToken cancellationToken) => WriteAsync(
        db => new StripImport(db, source, _time.GetUtcNow()).Run(strips.ToBlockingEnumerable(cancellationToken), told, keep),
        cancellationToken);
}
