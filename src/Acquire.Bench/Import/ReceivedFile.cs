using Acquire.Storage.Files;

namespace Acquire.Bench.Import;

/// <summary>
/// A file that somebody sent, in a folder of its own in the data folder that only the user may enter; gone when it is disposed of. No name
/// that came with it becomes a path.
/// </summary>
public sealed class ReceivedFile : IDisposable
{
    private const int LongestName = 100;
    private readonly string _folder;

    private ReceivedFile(string folder, string name) => (_folder, Name) = (folder, Plain(name));

    /// <summary>What its sender calls it, without any folder.</summary>
    public string Name { get; }

    private string Content => Path.Combine(_folder, "content");

    private string Map => Path.Combine(_folder, "map");

    /// <summary>Receives a file.</summary>
    /// <param name="name">What its sender calls it.</param>
    /// <param name="map">The column map that came with it; null for none.</param>
    public static async Task<ReceivedFile> OfAsync(
        string dataFolder, string name, Stream content, Stream? map, CancellationToken cancellationToken)
    {
        var received = new ReceivedFile(Path.Combine(FolderIn(dataFolder), Guid.NewGuid().ToString("N")), name);
        UserOnly.Folder(FolderIn(dataFolder));
        UserOnly.Folder(received._folder);
        try
        {
            await FillAsync(received.Content, content, cancellationToken);
            if (map is not null)
            {
                await FillAsync(received.Map, map, cancellationToken);
            }

            return received;
        }
        catch
        {
            received.Dispose();
            throw;
        }
    }

    /// <summary>Takes away what a program left that was killed.</summary>
    public static void Sweep(string dataFolder)
    {
        if (Directory.Exists(FolderIn(dataFolder)))
        {
            Directory.Delete(FolderIn(dataFolder), recursive: true);
        }
    }

    /// <summary>A request to import it.</summary>
    public ImportRequest Asked(ImportRequest how) => how with { File = Content, Name = Name, Map = File.Exists(Map) ? Map : null };

    /// <summary>A message about it that names it as its sender does.</summary>
    public string AsNamed(string message) =>
        message.Replace(Content, Name, StringComparison.Ordinal).Replace(Map, "map", StringComparison.Ordinal);

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    private static string FolderIn(string dataFolder) => Path.Combine(dataFolder, "received");

    private static string Plain(string name)
    {
        var last = name.Split('/', '\\')[^1];
        var plain = string.Concat(last.Where(c => !char.IsControl(c)).Take(LongestName)).Trim();
        return plain.Length == 0 ? "strips" : plain;
    }

    private static async Task FillAsync(string path, Stream from, CancellationToken cancellationToken)
    {
        await using var to = new FileStream(path, UserOnly.Options(FileMode.CreateNew, FileAccess.Write, FileShare.None));
        await from.CopyToAsync(to, cancellationToken);
    }
}
