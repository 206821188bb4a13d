using Acquire.Storage.Files;

namespace Acquire.Storage.Tests.Support;

/// <summary>
/// An empty store of this version, made once in a test process and copied from then on: making one costs five times as much as opening it,
/// for every script of every version runs. Tests of the making itself open an empty folder instead.
/// </summary>
internal static class EmptyStore
{
    private static readonly Lazy<Task<byte[]>> Made = new(MakeAsync);

    /// <summary>Puts one into a folder, unless there is a store already; as the store would, for its user only.</summary>
    public static async Task PutAsync(string folder)
    {
        UserOnly.Folder(folder);
        var file = Path.Combine(folder, "acquire.db");
        if (File.Exists(file))
        {
            return;
        }

        var empty = await Made.Value;
        await using var stream = new FileStream(file, UserOnly.Options(FileMode.CreateNew, FileAccess.Write, FileShare.None));
        stream.Write(empty);
    }

    /// <summary>Opens the store of a folder, an empty one where there is none.</summary>
    public static async Task<AcquireStore> OpenAsync(string folder, TimeProvider time, CancellationToken cancellationToken)
    {
        await PutAsync(folder);
        return await AcquireStore.OpenAsync(folder, time, cancellationToken);
    }

    private static async Task<byte[]> MakeAsync()
    {
        // No test's own token: whoever comes first makes it for all.
        var folder = Directory.CreateTempSubdirectory("acquire-test-");
        try
        {
            // Closed, the file holds everything: nothing is left in its log.
            await (await AcquireStore.OpenAsync(folder.FullName, TimeProvider.System, CancellationToken.None)).DisposeAsync();
            return await File.ReadAllBytesAsync(Path.Combine(folder.FullName, "acquire.db"));
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }
}
