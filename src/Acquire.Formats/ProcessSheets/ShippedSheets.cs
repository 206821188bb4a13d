namespace Acquire.Formats.ProcessSheets;

public static class ShippedSheets
{
    private static readonly Lazy<ImmutableArray<ProcessSheet>> Sheets = new(ReadAll);

    /// <summary>All of them, by key.</summary>
    public static ImmutableArray<ProcessSheet> All => Sheets.Value;

    /// <summary>
    /// Finds a sheet by key or name, in any case and with or without hyphens and blanks: <c>c41</c>, <c>C-41</c>; null when there is none.
    /// </summary>
    public static ProcessSheet? Find(string keyOrName)
    {
        ArgumentNullException.ThrowIfNull(keyOrName);
        var wanted = Bare(keyOrName);
        return All.FirstOrDefault(s => Bare(s.Key) == wanted) ?? All.FirstOrDefault(s => Bare(s.Name) == wanted);
    }

    /// <summary>Finds a sheet as <see cref="Find"/> does.</summary>
    /// <exception cref="ProcessSheetException">There is none; the message lists those there are.</exception>
    public static ProcessSheet Get(string keyOrName) => Find(keyOrName) ?? throw new ProcessSheetException(
        $"No process sheet '{keyOrName}' comes with the program; expected {string.Join(", ", All.Select(s => s.Key))}.");

    private static string Bare(string keyOrName) => new([.. keyOrName.Where(char.IsLetterOrDigit).Select(char.ToLowerInvariant)]);

    private static ImmutableArray<ProcessSheet> ReadAll()
    {
        var assembly = typeof(ShippedSheets).Assembly;
        return
        [
            .. assembly.GetManifestResourceNames()
                .Where(n => n.Contains(".Shipped.", StringComparison.Ordinal))
                .Select(ReadOne)
                .OrderBy(s => s.Key, StringComparer.Ordinal),
        ];

        ProcessSheet ReadOne(string resource)
        {
            using var reader = new StreamReader(assembly.GetManifestResourceStream(resource)!);
            // A test holds these files to the schema; to check them by it anew would make every start slower.
            return SheetSnapshot.Read(reader.ReadToEnd());
        }
    }
}
