namespace Acquire.Formats.Tables;

/// <summary>What a row of a table is.</summary>
public enum RowKind
{
    /// <summary>One read of one patch.</summary>
    Patch,

    /// <summary>A whole strip.</summary>
    Strip,
}

/// <summary>Which column of an old spreadsheet is which, saved as JSON so that it is said once only.</summary>
public sealed record ColumnMap
{
    /// <summary>What a row is.</summary>
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
/// <param name="Channel">The channel.</param>
/// <param name="Read">Which read, from 1.</param>
public sealed record DensityColumn(string Column, string Patch, Channel Channel, int Read = 1);

/// <summary>What a column can hold.</summary>
public static class ColumnRoles
{
    /// <summary>Columns of the strip as a whole.</summary>
    public static ImmutableArray<string> OfStrip { get; } =
        ["strip", "processed_at", "time", "lot", "process", .. StripTags.InTables.Select(t => t.Name), "read_by", "revision"];

    /// <summary>Columns of a read, with a row per patch.</summary>
    public static ImmutableArray<string> OfRead { get; } =
        ["patch", "read", "red", "green", "blue", "visual", "read_at", "excluded_reason", "excluded_at", "left_out_reason", "left_out_at"];

    /// <summary>What can be the same for all rows.</summary>
    public static ImmutableArray<string> Constant { get; } = ["lot", "process", .. StripTags.InTables.Select(t => t.Name), "read_by"];
}
