namespace Acquire.Formats;

/// <summary>An export could not be written; the file that was there before is unharmed. The message is for the user.</summary>
public sealed class ExportException(string message, Exception? inner = null) : Exception(message, inner);

/// <summary>Writes a file so that it is there whole or not at all: beside its place first, then renamed into it.</summary>
public static class ExportFile
{
    private const int BufferSize = 64 * 1024;

    /// <summary>
    /// Writes a file, in place of one that may be there. When writing fails or is cancelled, the one that was there is unharmed.
    /// </summary>
    /// <param name="path">The file; its folder must exist.</param>
    /// <param name="write">Writes the content, what it throws is thrown on.</param>
    /// <param name="cancellationToken">Cancels; nothing is left behind.</param>
    /// <exception cref="ExportException">The file cannot be written.</exception>
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
            throw new ExportException(
                $"{target}: the export cannot be written: {e.Message} Check the folder and the room on the disk. What was there before "
                + $"is unharmed.",
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
