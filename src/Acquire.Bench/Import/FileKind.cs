namespace Acquire.Bench.Import;

/// <summary>What kind of file it is, by what it says: names of files lie.</summary>
internal static class FileKind
{
    private const int Sample = 64 * 1024;

    public enum Kind
    {
        Csv,
        JsonLines,
        Cgats,
    }

    public static async Task<Kind> OfAsync(string file, CancellationToken cancellationToken)
    {
        using var text = new StreamReader(file);
        var begin = new char[Sample];
        var length = await text.ReadBlockAsync(begin, cancellationToken);
        var start = new string(begin, 0, length).TrimStart();
        return start.StartsWith('{') ? Kind.JsonLines
            : start.Contains("BEGIN_DATA", StringComparison.OrdinalIgnoreCase)
                || start.StartsWith("CGATS", StringComparison.OrdinalIgnoreCase) ? Kind.Cgats
            : Kind.Csv;
    }
}
