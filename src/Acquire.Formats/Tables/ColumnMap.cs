using System.Text.Json;
using System.Text.Json.Serialization;
using Acquire.Formats.Json;

namespace Acquire.Formats.Tables;

public enum RowKind
{
    Patch,

    Strip,
}

/// <summary>Which column of an old spreadsheet is which, saved as JSON so that it is said once only.</summary>
public sealed record ColumnMap
{
    public required RowKind Rows { get; init; }

    /// <summary>The separator; null to see it from the heading.</summary>
    public char? Separator { get; init; }

    /// <summary>The decimal mark, a point or a comma; null to take either.</summary>
    public char? DecimalMark { get; init; }

    /// <summary>The order of the numbers in dates; null to see it from the dates, or to ask where they do not tell.</summary>
    public DateStyle? Dates { get; init; }

    /// <summary>Time zone of times without an offset; null for that of this computer.</summary>
    public string? TimeZone { get; init; }

    /// <summary>Whether an apostrophe that guards a cell against being run as a formula is to be taken away.</summary>
    public bool Guarded { get; init; }

    /// <summary>Headings by what the column holds; the words are those of <see cref="ColumnRoles"/>.</summary>
    public ImmutableSortedDictionary<string, string> Columns { get; init; } = ImmutableSortedDictionary<string, string>.Empty;

    /// <summary>With a row per strip: the columns of densities.</summary>
    public ImmutableArray<DensityColumn> Densities { get; init; } = [];

    /// <summary>The file's words for patches, where they are other than key or name.</summary>
    public ImmutableSortedDictionary<string, string> Patches { get; init; } = ImmutableSortedDictionary<string, string>.Empty;

    /// <summary>
    /// What is the same for all rows and in no column: <c>lot</c>, <c>line</c>, <c>bottle</c>, <c>process</c>, <c>read_by</c>, <c>note</c>.
    /// </summary>
    public ImmutableSortedDictionary<string, string> Constants { get; init; } = ImmutableSortedDictionary<string, string>.Empty;
}

/// <summary>A column that holds one channel of one read of one patch.</summary>
/// <param name="Column">Its heading.</param>
/// <param name="Patch">Key or name of the patch.</param>
/// <param name="Read">Which read, from 1.</param>
public sealed record DensityColumn(string Column, string Patch, Channel Channel, int Read = 1);

/// <summary>What a column can hold.</summary>
public static class ColumnRoles
{
    public static ImmutableArray<string> OfStrip { get; } =
    [
        "strip", "processed_at", "time", "lot", "process", .. StripTags.InTables.Select(t => t.Name), "read_by", "revision", "instrument",
        "profile", "profile_hash", "port",
    ];

    /// <summary>Columns of a read, with a row per patch.</summary>
    public static ImmutableArray<string> OfRead { get; } =
        ["patch", "read", "red", "green", "blue", "visual", "read_at", "excluded_reason", "excluded_at", "left_out_reason", "left_out_at"];

    /// <summary>What can be the same for all rows.</summary>
    public static ImmutableArray<string> Constant { get; } = ["lot", "process", .. StripTags.InTables.Select(t => t.Name), "read_by"];
}

public static class ColumnMapFile
{
    private static readonly JsonSerializerOptions Options = new(JsonText.Edited)
    {
        UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
        RespectNullableAnnotations = true,
    };

    public static string Write(ColumnMap map) => JsonSerializer.Serialize(map, Options) + "\n";

    /// <summary>Reads a map.</summary>
    /// <exception cref="ImportException">It is none; the message says file, line and what was expected.</exception>
    /// <exception cref="IOException">The file cannot be opened.</exception>
    public static async Task<ColumnMap> ReadAsync(string file, CancellationToken cancellationToken)
    {
        ColumnMap map;
        try
        {
            map = JsonSerializer.Deserialize<ColumnMap>(await File.ReadAllTextAsync(file, cancellationToken), Options)
                ?? throw new JsonException("the file says null");
        }
        catch (JsonException e)
        {
            throw new FilePlace(file, (int)(e.LineNumber ?? 0) + 1).Wrong(
                $"this is no column map ({(e.Path is { Length: > 0 } path ? path + ": " : "")}"
                + $"{FilePlace.Shown(e.Message, 160).TrimEnd('.')}). "
                + "Make one from the heading of your file: acquire import map new --from FILE --out MAP",
                e);
        }

        return Checked(map, file);
    }

    private static ColumnMap Checked(ColumnMap map, string file)
    {
        string[] known = [.. ColumnRoles.OfStrip, .. ColumnRoles.OfRead];
        if (map.Columns.Keys.Except(known).FirstOrDefault() is { } odd)
        {
            throw new ImportException($"{file}: columns names '{odd}', which is none of {string.Join(", ", known)}.");
        }

        if (map.Constants.Keys.Except(ColumnRoles.Constant).FirstOrDefault() is { } constant)
        {
            throw new ImportException($"{file}: constants names '{constant}', which is none of {string.Join(", ", ColumnRoles.Constant)}.");
        }

        if (map.DecimalMark is not (null or '.' or ','))
        {
            throw new ImportException($"{file}: decimalMark is '{map.DecimalMark}'; expected a point or a comma.");
        }

        if (map.Rows == RowKind.Strip && map.Densities.IsDefaultOrEmpty)
        {
            throw new ImportException($"{file}: with a row per strip, densities lists the columns; it is empty.");
        }

        if (map.Rows == RowKind.Strip
            && map.Densities.GroupBy(d => (d.Patch.ToUpperInvariant(), d.Channel, d.Read)).FirstOrDefault(g => g.Count() > 1) is { } twice)
        {
            throw new ImportException(
                $"{file}: {string.Join(" and ", twice.Select(d => $"'{d.Column}'"))} are both {twice.First().Patch} "
                + $"{twice.Key.Channel.ToString().ToLowerInvariant()}, read {twice.Key.Read}; expected one column each.");
        }

        return map;
    }
}
