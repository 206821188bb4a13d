namespace Acquire.Storage.Export;

/// <summary>Writes a file so that it is there whole or not at all: beside its place first, then renamed into it.</summary>
public static class ExportFile
{
    private const int BufferSize = 64 * 1024;

    /// <summary>Writes a file, in place of one that may be there. When writing fails or is cancelled, the one that was there is unharmed.</summary>
    /// <param name="path">The file; its folder must exist.</param>
    /// <param name="write">Writes the content, such as <see cref="StripCsv.WriteAsync"/>; what it throws is thrown on.</param>
    /// <param name="cancellationToken">Cancels; nothing is left behind.</param>
    /// <exception cref="StoreException">The file cannot be written (<see cref="StoreFault.ExportFailed"/>).</exception>
    public static async Task WriteAsync(string path, Func<Stream, CancellationToken, Task> write, CancellationToken cancellationToken)
    {
        var target = Path.GetFullPath(path);
        var partial = Path.Combine(Path.GetDirectoryName(target) ?? target, $".{Path.GetFileName(target)}.{Guid.NewGuid():N}.partial");
        try
        {
            await FillAsync(partial, write, cancellationToken);
            File.Move(partial, target, overwrite: true);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new StoreException(
                StoreFault.ExportFailed,
                $"{target}: the export cannot be written: {e.Message} Check the folder and the room on the disk. What was there before is unharmed.",
                e);
        }
        finally
        {
            if (File.Exists(partial))
            {
                File.Delete(partial);
            }
        }
    }

    private static async Task FillAsync(string partial, Func<Stream, CancellationToken, Task> write, CancellationToken cancellationToken)
    {
        await using var stream = new FileStream(
            partial, FileMode.CreateNew, FileAccess.Write, FileShare.None, BufferSize, FileOptions.Asynchronous);
        await write(stream, cancellationToken);
        stream.Flush(flushToDisk: true);
    }
}
