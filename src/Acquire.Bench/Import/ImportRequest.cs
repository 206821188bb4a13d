using Acquire.Bench.Sessions;
using Acquire.Formats.Tables;
using Acquire.Storage.Import;

namespace Acquire.Bench.Import;

/// <summary>What is to be imported, and how.</summary>
/// <param name="File">The file: CSV, JSON Lines or CGATS.17, told apart by what it says.</param>
public sealed record ImportRequest(string File, string By)
{
    /// <summary>What can hold for all strips of a file. Who read a strip is in the file or not known.</summary>
    public static ImmutableArray<string> ConstantNames { get; } = ColumnRoles.Constant.Remove("read_by");

    /// <summary>What the file is called where it came from; its own name where it was found here.</summary>
    public string Name { get; init; } = File;

    /// <summary>The file of the column map; null when the heading is one of this program's own.</summary>
    public string? Map { get; init; }

    /// <summary>The order of the numbers in dates; null to see it from the dates.</summary>
    public DateStyle? Dates { get; init; }

    /// <summary>
    /// What holds for all strips of the file, by the words of <see cref="ColumnRoles.Constant"/>; it goes before the map's constants.
    /// </summary>
    public IReadOnlyDictionary<string, string> Constants { get; init; } = new Dictionary<string, string>();

    /// <summary>When the strips of a file without dates were processed; null when the file has dates.</summary>
    public DateTimeOffset? ProcessedAt { get; init; }

    /// <summary>Whether lots that the store lacks are added, without a reference.</summary>
    public bool AddLots { get; init; }

    /// <summary>Whether nothing is to be written.</summary>
    public bool DryRun { get; init; }

    /// <summary>
    /// Whether strips that are stored with other values are left as they are and the rest imported; otherwise nothing is.
    /// </summary>
    public bool SkipConflicts { get; init; }
}

/// <summary>What an import did, or would do.</summary>
public sealed record ImportReport
{
    public required ImportSource Source { get; init; }

    /// <summary>Whether it was written. A dry run and an import with conflicts are not.</summary>
    public required bool Written { get; init; }

    /// <summary>Whether strips that are stored with other values stopped it, or would.</summary>
    public required bool IsRefused { get; init; }

    public required ImmutableSortedDictionary<ImportFate, int> Strips { get; init; }

    /// <summary>How many reads the added and revised strips have.</summary>
    public required long Reads { get; init; }

    /// <summary>Code numbers of the lots that were added.</summary>
    public required ImmutableArray<string> Lots { get; init; }

    /// <summary>What the strips that came in give cause to ask, in the order of the file. Nothing was refused or changed for it.</summary>
    public required ImmutableArray<ImportQuestion> Questions { get; init; }

    /// <summary>How many strips had this fate.</summary>
    public int Count(ImportFate fate) => Strips.GetValueOrDefault(fate);
}

/// <summary>A question about a strip of the file.</summary>
public sealed record ImportQuestion(ImportedEntry Entry, AskedQuestion Asked);

/// <summary>What an import says while it runs.</summary>
public interface IImportListener
{
    /// <summary>Something the user should know of one place of the file.</summary>
    void Note(FilePlace spot, string text);

    /// <summary>What becomes of a strip.</summary>
    void Entry(ImportedEntry entry);

    /// <summary>The dates of the file can be read in more than one way; gives the right one, or null when nobody can be asked.</summary>
    Task<DateStyle?> AskAsync(FilePlace spot, DateVerdict dates, CancellationToken cancellationToken);
}
