using System.Text;
using Acquire.Storage.Files;

namespace Acquire.Bench.Files;

/// <summary>
/// A file that is there whole or not at all: written beside its place, flushed to the disk and then renamed into it. One that is there
/// already is replaced only when asked, and a database never.
/// </summary>
public sealed class WholeFile
{
    private const int BufferSize = 64 * 1024;
    private const int MostLinks = 40;

    /// <summary>How databases of SQLite and their write-ahead logs begin. Source: sqlite.org/fileformat2.html, 1.3 and 4.1.</summary>
    private static readonly byte[][] Databases = ["SQLite format 3\0"u8.ToArray(), [0x37, 0x7F, 0x06, 0x82], [0x37, 0x7F, 0x06, 0x83]];

    private readonly bool _replace;

    private WholeFile(string name, string path, bool replace) => (Name, Path, _replace) = (name, path, replace);

    /// <summary>The file as the user named it.</summary>
    public string Name { get; }

    /// <summary>The full path of the file itself, behind all links.</summary>
    public string Path { get; }

    /// <summary>Settles where something is written, before any work is done for it.</summary>
    /// <exception cref="BenchException">
    /// There is such a file and it is not to be replaced, it is a folder or a database, or its folder is not there.
    /// </exception>
    public static WholeFile At(string name, bool replace)
    {
        try
        {
            var file = new WholeFile(name, Real(name), replace);
            file.Require();
            return file;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException)
        {
            throw new BenchException($"{name} cannot be written: {e.Message}");
        }
    }

    /// <summary>Writes the file. When that fails or is cancelled, nothing is left behind, and what was there is unharmed.</summary>
    /// <param name="write">Writes the content; what it throws is thrown on.</param>
    /// <exception cref="BenchException">The file cannot be written.</exception>
    public async Task WriteAsync(Func<Stream, CancellationToken, Task> write, CancellationToken cancellationToken)
    {
        var name = $".{System.IO.Path.GetFileName(Path)}.{Guid.NewGuid():N}.partial";
        var partial = System.IO.Path.Combine(System.IO.Path.GetDirectoryName(Path)!, name);
        try
        {
            if (IsDevice)
            {
                await using var device = new FileStream(Path, FileMode.Open, FileAccess.Write, FileShare.ReadWrite);
                await write(device, cancellationToken);
                return;
            }

            // Asked once more: in the time it took to fill the file, another program may have put one in its place.
            await FillAsync(partial, write, cancellationToken);
            Require();
            File.Move(partial, Path, overwrite: _replace);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new BenchException(
                $"{Name} cannot be written: {e.Message} Check the folder and the room on the disk. What was there before is unharmed.");
        }
        finally
        {
            if (File.Exists(partial))
            {
                File.Delete(partial);
            }
        }
    }

    /// <exception cref="BenchException">The file cannot be written.</exception>
    public Task WriteAsync(string text, CancellationToken cancellationToken) => WriteAsync(Encoding.UTF8.GetBytes(text), cancellationToken);

    /// <exception cref="BenchException">The file cannot be written.</exception>
    public Task WriteAsync(byte[] bytes, CancellationToken cancellationToken) => WriteAsync(
        (stream, token) => stream.WriteAsync(bytes, token).AsTask(), cancellationToken);

    /// <summary>What programs write to without making it, such as <c>/dev/stdout</c>: a rename would take its place.</summary>
    private bool IsDevice => Path.StartsWith("/dev/", StringComparison.Ordinal) || Path.StartsWith("/proc/", StringComparison.Ordinal);

    /// <summary>The path behind all links, of the file and of the folders it is in.</summary>
    /// <exception cref="IOException">The links lead in a circle.</exception>
    public static string Real(string name) => Real(name, MostLinks);

    private static string Real(string name, int links)
    {
        var full = System.IO.Path.GetFullPath(name);
        if (System.IO.Path.GetDirectoryName(full) is not { } folder)
        {
            return full;
        }

        var place = new FileInfo(System.IO.Path.Combine(Real(folder, links), System.IO.Path.GetFileName(full)));
        return place.LinkTarget is not { } target ? place.FullName
            : links == 0 ? throw new IOException("the links of its path lead in a circle.")
            : Real(System.IO.Path.Combine(place.DirectoryName!, target), links - 1);
    }

    private void Require()
    {
        if (Directory.Exists(Path))
        {
            throw new BenchException($"{Name} is a folder; name a file.");
        }

        if (!Directory.Exists(System.IO.Path.GetDirectoryName(Path)))
        {
            throw new BenchException(
                $"There is no folder {System.IO.Path.GetDirectoryName(Path)} to write {System.IO.Path.GetFileName(Path)} to; "
                + "make it first.");
        }

        if (IsDevice)
        {
            return;
        }

        if (StoreNames.Owns(Path))
        {
            throw new BenchException($"{Name} is a name that belongs to a store; name another file.");
        }

        if (!File.Exists(Path))
        {
            return;
        }

        if (IsDatabase())
        {
            throw new BenchException($"{Name} is a database, and nothing replaces one; name another file.");
        }

        if (!_replace)
        {
            throw new BenchException($"{Name} is there already. Name another file, or replace it with --force.");
        }
    }

    private bool IsDatabase()
    {
        using var stream = new FileStream(Path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
        var head = new byte[16];
        var read = stream.ReadAtLeast(head, head.Length, throwOnEndOfStream: false);
        return Databases.Any(d => read >= d.Length && head.AsSpan(0, d.Length).SequenceEqual(d));
    }

    private async Task FillAsync(string partial, Func<Stream, CancellationToken, Task> write, CancellationToken cancellationToken)
    {
        await using var stream = new FileStream(
            partial, FileMode.CreateNew, FileAccess.Write, FileShare.None, BufferSize, FileOptions.Asynchronous);
        if (!OperatingSystem.IsWindows() && File.Exists(Path))
        {
            File.SetUnixFileMode(partial, File.GetUnixFileMode(Path));
        }

        await write(stream, cancellationToken);
        await stream.FlushAsync(cancellationToken);
        stream.Flush(flushToDisk: true);
    }
}
