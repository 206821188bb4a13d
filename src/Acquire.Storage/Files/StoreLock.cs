namespace Acquire.Storage.Files;

/// <summary>
/// One lock for all that happens to the file as a whole: users share <c>acquire.lock</c>; who makes the store, brings it to this version or
/// puts another in its place has it alone. The system gives it free when its process ends, however it ends.
/// </summary>
internal static class StoreLock
{
    /// <summary>How long to wait before another try.</summary>
    public static readonly TimeSpan Step = TimeSpan.FromMilliseconds(20);

    private const string Name = "acquire.lock";

    /// <summary>Shared with all that use the store; null while another has it alone. Dispose to leave.</summary>
    public static FileStream? Use(string folder) => Take(folder, FileAccess.Read, FileShare.Read);

    /// <summary>Alone; null while another has it. Dispose to give it free.</summary>
    public static FileStream? Alone(string folder) => Take(folder, FileAccess.ReadWrite, FileShare.None);

    /// <summary>Why <see cref="Alone"/> gave none.</summary>
    public static StoreException InUse(string folder) => new(
        StoreFault.Busy, $"{folder}: a program has the store open. End every acquire that uses this data folder, then try again.");

    private static FileStream? Take(string folder, FileAccess access, FileShare share)
    {
        var path = Path.Combine(folder, Name);
        try
        {
            return new FileStream(path, UserOnly.Options(FileMode.OpenOrCreate, access, share));
        }
        catch (IOException) when (File.Exists(path))
        {
            return null;
        }
    }
}
