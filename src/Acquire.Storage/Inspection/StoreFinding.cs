namespace Acquire.Storage.Inspection;

/// <summary>What is wrong with a file.</summary>
public enum StoreFindingKind
{
    /// <summary>SQLite finds its own structure damaged.</summary>
    Damaged,

    /// <summary>A table, view, index or trigger is not as this program makes it.</summary>
    SchemaChanged,

    /// <summary>A row refers to one that is not there.</summary>
    BrokenReference,

    RowChanged,

    /// <summary>A row that was written is gone, or its seal is.</summary>
    RowMissing,

    /// <summary>Rows that this program has not written, or that it has not sealed yet.</summary>
    NotSealed,

    /// <summary>A record or view cannot be read.</summary>
    Unreadable,

    /// <summary>A record does not hold what it must, such as means that follow from its reads.</summary>
    NotProved,
}

/// <summary>One thing that is wrong.</summary>
/// <param name="What">What and where, for the user.</param>
public sealed record StoreFinding(StoreFindingKind Kind, string What);

/// <summary>A file that was looked through.</summary>
/// <param name="File">Full path.</param>
/// <param name="Contents">How many of what it holds, by table; empty when that could not be counted.</param>
/// <param name="Seals">How many rows are sealed; null when the file is of a version that knew no seals.</param>
/// <param name="Findings">What is wrong; empty when nothing is.</param>
public sealed record StoreReport(
    string File, int SchemaVersion, ImmutableSortedDictionary<string, long> Contents, long? Seals, ImmutableArray<StoreFinding> Findings)
{
    /// <summary>Whether nothing is wrong.</summary>
    public bool IsSound => Findings.IsEmpty;
}
