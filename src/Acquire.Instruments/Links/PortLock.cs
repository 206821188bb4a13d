using System.Text.Json;

namespace Acquire.Instruments.Links;

/// <summary>
/// Makes one owner per port among the programs of this kind: an exclusively opened file per device, which the system releases when
/// its process ends however it ends, and beside it a note that says who the owner is. The system's own exclusive mode is not enough: it
/// does not stop root.
/// </summary>
internal sealed class PortLock : IDisposable
{
    private readonly FileStream _lock;
    private readonly string _notePath;

    private PortLock(FileStream held, string notePath) => (_lock, _notePath) = (held, notePath);

    /// <summary>Takes the lock; what a program that is gone left behind is taken over.</summary>
    /// <exception cref="LinkException">Another holds it; the message says who.</exception>
    /// <exception cref="IOException">The lock folder cannot be used.</exception>
    /// <exception cref="UnauthorizedAccessException">The lock folder may not be used.</exception>
    public static PortLock Take(string folder, string portName, string resolvedPath, PortHolder holder)
    {
        PrivateFolder.Make(folder);
        var stem = Path.Combine(folder, Uri.EscapeDataString(resolvedPath));
        var (lockPath, notePath) = (stem + ".lock", stem + ".json");
        FileStream held;
        try
        {
            held = new FileStream(lockPath, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
        }
        catch (IOException e) when (File.Exists(lockPath))
        {
            var by = ReadNote(notePath)?.ToString() ?? "a program that has not said who it is";
            throw new LinkException(LinkFault.InUse, $"{portName} is held by {by}. End that program, or name another port.", e);
        }

        try
        {
            File.WriteAllText(notePath, JsonSerializer.Serialize(holder));
            return new PortLock(held, notePath);
        }
        catch
        {
            held.Dispose();
            throw;
        }
    }

    /// <summary>Gives the port free. The lock file stays: to delete it could pull it from under the next owner.</summary>
    public void Dispose()
    {
        try
        {
            File.Delete(_notePath);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // A note without a lock is ignored by everybody.
        }
        finally
        {
            _lock.Dispose();
        }
    }

    private static PortHolder? ReadNote(string path)
    {
        try
        {
            return JsonSerializer.Deserialize<PortHolder>(File.ReadAllText(path));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or JsonException)
        {
            return null;
        }
    }
}
