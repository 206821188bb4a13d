namespace Acquire.Instruments.ProfileFiles;

/// <summary>The profiles and their schema as they are shipped inside the assembly.</summary>
internal static class EmbeddedProfiles
{
    private const string Folder = "device-profiles/";
    private const string SchemaName = Folder + "device-profile.schema.json";

    /// <summary>The text of the schema.</summary>
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
