using Acquire.Formats.Tables;
using Acquire.Storage.Import;

namespace Acquire.Bench.Import;

/// <summary>What an import did, or would do.</summary>
public sealed record ImportReport
{
    /// <summary>The file.</summary>
    public required ImportSource Source { get; init; }

    /// <summary>Whether it was written. A dry run and an import with conflicts are not.</summary>
    public required bool Written { get; init; }

    /// <summary>How many strips had which fate.</summary>
    public required ImmutableSortedDictionary<ImportFate, int> Strips { get; init; }

    /// <summary>How many reads the added and revised strips have.</summary>
    public required long Reads { get; init; }

    /// <summary>Code numbers of the lots that were added.</summary>
    public required ImmutableArray<string> Lots { get; init; }

    /// <summary>How many strips had this fate.</summary>
    public int Count(ImportFate fate) => Strips.GetValueOrDefault(fate);
}

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
