using System.Text.Json;
using Acquire.Formats.Json;
using Acquire.Storage.Files;
using Acquire.Web.Security.Tokens;

namespace Acquire.Web.Hosting;

/// <summary>Where a running service is found: <c>service.json</c> in its data folder, for the user alone to read.</summary>
/// <param name="Url">Where it listens.</param>
/// <param name="Token">What every request carries: <c>Authorization: Bearer TOKEN</c>.</param>
/// <param name="Pid">The process, to be named to a person; whether it lives is told by its lock.</param>
/// <param name="Socket">
/// The socket where it listens too, full path; null where the system has none. Nobody else can stand in its place.
/// </param>
public sealed record ServiceFile(string Url, string Token, int Pid, string? Socket = null)
{
    private const string Name = "service.json";

    /// <summary>A token that nobody guesses: 256 bits.</summary>
    public static string NewToken() => RandomSecret.New();

    /// <summary>The service that runs on a data folder; null where none does.</summary>
    public static ServiceFile? Find(string dataFolder)
    {
        if (!ServiceLock.IsHeld(dataFolder))
        {
            return null;
        }

        try
        {
            return JsonSerializer.Deserialize<ServiceFile>(File.ReadAllText(Path.Combine(dataFolder, Name)), JsonText.Options);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or JsonException)
        {
            // It starts just now, or it is another user's.
            return null;
        }
    }

    /// <summary>Writes it beside and renames it, so that nobody reads half of it.</summary>
    public void Write(string dataFolder)
    {
        var path = Path.Combine(dataFolder, Name);
        var beside = path + ".new";
        using (var file = new StreamWriter(new FileStream(beside, UserOnly.Options(FileMode.Create, FileAccess.Write, FileShare.None))))
        {
            file.Write(JsonSerializer.Serialize(this, JsonText.Edited));
        }

        File.Move(beside, path, overwrite: true);
    }

    public static void Remove(string dataFolder) => File.Delete(Path.Combine(dataFolder, Name));
}

/// <summary>One service for a data folder. A lock of the system's, so that a service that was killed holds nothing.</summary>
public sealed class ServiceLock : IDisposable
{
    /// <summary>Whoever looks for a service holds the lock for a moment, and must not keep one from starting.</summary>
    private const int Attempts = 10;

    private static readonly TimeSpan Step = TimeSpan.FromMilliseconds(30);
    private readonly FileStream _held;

    private ServiceLock(FileStream held) => _held = held;

    /// <summary>Takes the lock; what a service that was killed said of itself is gone then.</summary>
    /// <exception cref="BenchException">Another service runs on the folder.</exception>
    public static async Task<ServiceLock> TakeAsync(string dataFolder, TimeProvider time, CancellationToken cancellationToken)
    {
        for (var attempt = 1; ; attempt++)
        {
            try
            {
                var held = new ServiceLock(Open(dataFolder));
                ServiceFile.Remove(dataFolder);
                return held;
            }
            catch (IOException) when (attempt < Attempts)
            {
                await Task.Delay(Step, time, cancellationToken);
            }
            catch (IOException)
            {
                var other = ServiceFile.Find(dataFolder);
                throw new BenchException(
                    $"A service runs on {dataFolder} already{(other is null ? "" : $": {other.Url}, process {other.Pid}")}. "
                    + "Stop it first, or use it as it is.");
            }
        }
    }

    internal static bool IsHeld(string dataFolder)
    {
        if (!File.Exists(PathIn(dataFolder)))
        {
            return false;
        }

        try
        {
            Open(dataFolder).Dispose();
            return false;
        }
        catch (IOException)
        {
            return true;
        }
        catch (UnauthorizedAccessException)
        {
            return false;
        }
    }

    public void Dispose() => _held.Dispose();

    private static string PathIn(string dataFolder) => Path.Combine(dataFolder, "service.lock");

    private static FileStream Open(string dataFolder) =>
        new(PathIn(dataFolder), UserOnly.Options(FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None));
}
