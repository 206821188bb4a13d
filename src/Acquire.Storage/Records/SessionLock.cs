using System.Text.Json;
using Acquire.Storage.Files;

namespace Acquire.Storage.Records;

/// <summary>Who reads a session at present.</summary>
/// <param name="Program">The command as the user would type it.</param>
public sealed record SessionHolder(string Program, int ProcessId, DateTimeOffset Since)
{
    /// <summary>For example <c>acquire read, process 1234, since 2026-03-01 18:04:05Z</c>.</summary>
    public override string ToString() =>
        string.Create(CultureInfo.InvariantCulture, $"{Program}, process {ProcessId}, since {Since.ToUniversalTime():u}");
}

/// <summary>
/// Makes one reader per session: an exclusively opened file in the folder <c>sessions</c> beside the store, which the system releases when
/// its process ends however it ends, and a note beside it that says who the reader is.
/// </summary>
public sealed class SessionLock : IDisposable
{
    private readonly FileStream _held;
    private readonly string _notePath;
    private bool _isOver;

    private SessionLock(FileStream held, string notePath) => (_held, _notePath) = (held, notePath);

    /// <summary>Says that the session has ended, so that nobody will want its lock any more and the file may go.</summary>
    public void SessionEnded() => _isOver = true;

    public void Dispose()
    {
        // The file of a session that goes on stays: to delete it could pull it from under the next reader.
        Discard(_notePath);
        if (_isOver)
        {
            Discard(_held.Name);
        }

        _held.Dispose();
    }

    /// <exception cref="StoreException">
    /// Another program reads the session (<see cref="StoreFault.Conflict"/>), or no file can be made.
    /// </exception>
    internal static SessionLock Take(string databasePath, Guid sessionId, SessionHolder holder)
    {
        var (lockPath, notePath) = PathsOf(databasePath, sessionId);
        FileStream? held = null;
        try
        {
            UserOnly.Folder(Path.GetDirectoryName(lockPath)!);
            held = Open(lockPath) ?? throw new StoreException(
                StoreFault.Conflict,
                $"Session {sessionId} is being read by {ReadNote(notePath)?.ToString() ?? "another program"}. Go on there, or end that "
                + "program first.");
            using (var note = new FileStream(notePath, UserOnly.Options(FileMode.Create, FileAccess.Write, FileShare.Read)))
            {
                JsonSerializer.Serialize(note, holder);
            }

            return new SessionLock(held, notePath);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            held?.Dispose();
            throw StoreFaults.Translate(e, lockPath);
        }
    }

    /// <summary>Whether a program reads the session now, and which; null when none does.</summary>
    internal static SessionHolder? HolderOf(string databasePath, Guid sessionId)
    {
        var (lockPath, notePath) = PathsOf(databasePath, sessionId);
        try
        {
            if (!File.Exists(lockPath))
            {
                return null;
            }

            using var free = Open(lockPath);
            return free is null ? ReadNote(notePath) ?? new SessionHolder("another program", 0, default) : null;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return null;
        }
    }

    /// <summary>Opens the file for this program alone; null when another has it.</summary>
    private static FileStream? Open(string path)
    {
        try
        {
            return new FileStream(path, UserOnly.Options(FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None));
        }
        catch (IOException e) when (e is not (DirectoryNotFoundException or FileNotFoundException) && File.Exists(path))
        {
            return null;
        }
    }

    private static (string Lock, string Note) PathsOf(string databasePath, Guid sessionId)
    {
        var stem = Path.Combine(Path.GetDirectoryName(databasePath)!, "sessions", sessionId.ToString("D"));
        return (stem + ".lock", stem + ".json");
    }

    private static SessionHolder? ReadNote(string path)
    {
        try
        {
            return JsonSerializer.Deserialize<SessionHolder>(File.ReadAllText(path));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or JsonException)
        {
            return null;
        }
    }

    private static void Discard(string path)
    {
        try
        {
            File.Delete(path);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // A note without a lock is ignored by everybody, and so is the lock of a session that has ended.
        }
    }
}
