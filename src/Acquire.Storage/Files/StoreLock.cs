namespace Acquire.Storage.Files;

/// <summary>
/// Tells programs that use a store from one that wants to put another file in its place: users share a lock on <c>acquire.lock</c>, the
/// one that restores has it alone. The system gives it free when its process ends, however it ends.
/// </summary>
internal static class StoreLock
{
    private const string Name = "acquire.lock";

    /// <summary>Shared with all that use the store; dispose to leave.</summary>
    /// <exception cref="StoreException">The store is being restored.</exception>
    public static FileStream Use(string folder) => Take(
        folder, FileAccess.Read, FileShare.Read, "a backup is being restored here at this moment. Wait until that has ended.");

    /// <summary>Alone; dispose to give it free.</summary>
    /// <exception cref="StoreException">A program uses the store.</exception>
    public static FileStream Alone(string folder) => Take(
        folder, FileAccess.ReadWrite, FileShare.None, "a program has the store open. End every acquire that uses this data folder, then try again.");

    private static FileStream Take(string folder, FileAccess access, FileShare share, string inUse)
    {
        var path = Path.Combine(folder, Name);
        try
        {
            return new FileStream(path, FileMode.OpenOrCreate, access, share);
        }
        catch (IOException e) when (File.Exists(path))
        {
            throw new StoreException(StoreFault.Busy, $"{folder}: {inUse}", e);
        }
    }
}
