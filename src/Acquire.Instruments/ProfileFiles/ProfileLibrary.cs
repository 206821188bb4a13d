using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.ProfileFiles;

/// <summary>One profile that there is.</summary>
/// <param name="Name">The name it is found by: of the profile, or of the file when that cannot be read.</param>
/// <param name="Source">The user's file, or null for a shipped profile.</param>
/// <param name="Profile">The profile; null when it cannot be used.</param>
/// <param name="Fault">Why it cannot be used; null when it can.</param>
public sealed record ProfileEntry(string Name, string? Source, DeviceProfile? Profile, ProfileException? Fault);

/// <summary>The shipped profiles and those in the user's folder; the user's own goes before a shipped one of the same name.</summary>
/// <param name="userFolder">The folder of the user's profiles; null for none. It need not exist.</param>
public sealed class ProfileLibrary(string? userFolder = null)
{
    private const long LargestFile = 1024 * 1024;

    private static readonly Lazy<ImmutableArray<ProfileEntry>> Shipped = new(() =>
        [.. EmbeddedProfiles.All().Select(p => ProfileReader.Read(p.Text, p.File)).Select(p => new ProfileEntry(p.Name, null, p, null))]);

    /// <summary>All profiles by name, those that cannot be used included with the reason.</summary>
    public ImmutableArray<ProfileEntry> List()
    {
        // A broken file of the user's hides the shipped profile of its name too: to fall back in silence would read with another one.
        var own = OwnFiles().Select(Entry).ToList();
        return
        [
            .. own.Concat(Shipped.Value.Where(s => own.All(o => o.Name != s.Name))).OrderBy(e => e.Name, StringComparer.Ordinal),
        ];
    }

    /// <summary>Finds a profile by its name, or reads the file of that path.</summary>
    /// <exception cref="ProfileException">
    /// There is none; the message lists what there is. Or it cannot be used, or is a file where none is taken.
    /// </exception>
    public DeviceProfile Find(string nameOrPath)
    {
        if (nameOrPath.EndsWith(".json", StringComparison.OrdinalIgnoreCase) || nameOrPath.AsSpan().ContainsAny('/', '\\'))
        {
            return ReadFile(nameOrPath);
        }

        return Named(nameOrPath);
    }

    /// <summary>Finds a profile by its name, and reads no other file for it: for names that come over a network, where the message of what
    /// is wrong with a file would show parts of any that the service may read.</summary>
    /// <exception cref="ProfileException">There is none; the message lists what there is. Or it cannot be used.</exception>
    public DeviceProfile Named(string name)
    {
        var all = List();
        var found = all.FirstOrDefault(e => string.Equals(e.Name, name, StringComparison.OrdinalIgnoreCase));
        return found?.Profile ?? throw found?.Fault ?? Failure(
            name,
            $"There is no such profile; there are {string.Join(", ", all.Select(e => e.Name))}. A path to a file ends in .json.");
    }

    /// <summary>Reads the profile in a file.</summary>
    /// <exception cref="ProfileException">The file cannot be read or the profile cannot be used.</exception>
    public static DeviceProfile ReadFile(string path)
    {
        try
        {
            var file = new FileInfo(path);
            return file is { Exists: true, Length: > LargestFile }
                ? throw Failure(path, "The file is larger than 1 MiB; expected a device profile in JSON.")
                : ProfileReader.Read(File.ReadAllText(path), path);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            throw Failure(path, $"The file cannot be read: {e.Message}");
        }
    }

    private static ProfileException Failure(string file, string message) => new([new ProfileError(file, 0, 0, message)]);

    private static ProfileEntry Entry(string path)
    {
        try
        {
            var profile = ReadFile(path);
            return new ProfileEntry(profile.Name, path, profile, null);
        }
        catch (ProfileException fault)
        {
            return new ProfileEntry(Path.GetFileNameWithoutExtension(path), path, null, fault);
        }
    }

    private IEnumerable<string> OwnFiles() =>
        Directory.Exists(userFolder)
            ? Directory.EnumerateFiles(userFolder, "*.json")
                .Where(f => !f.EndsWith(".schema.json", StringComparison.Ordinal)).Order(StringComparer.Ordinal)
            : [];
}

/// <summary>The profiles and their schema as they are shipped inside the assembly.</summary>
internal static class EmbeddedProfiles
{
    private const string Folder = "device-profiles/";
    private const string SchemaName = Folder + "device-profile.schema.json";

    public static string Schema() => Read(SchemaName);

    /// <summary>The shipped profiles as file name and text, by name.</summary>
    public static IEnumerable<(string File, string Text)> All() =>
        from name in typeof(EmbeddedProfiles).Assembly.GetManifestResourceNames()
        where name.StartsWith(Folder, StringComparison.Ordinal) && name != SchemaName
        orderby name
        select (name, Read(name));

    private static string Read(string name)
    {
        using var stream = typeof(EmbeddedProfiles).Assembly.GetManifestResourceStream(name)
            ?? throw new InvalidOperationException($"The assembly was built without its resource {name}.");
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd();
    }
}
