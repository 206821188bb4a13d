using System.Security.Cryptography;

namespace Acquire.Storage.Import;

/// <summary>A strip on its way into the store.</summary>
/// <param name="Spot">Where the file has it.</param>
/// <param name="Identity">
/// What tells it from others: the id of the record, or what the file says of it. The same identity a second time in one file is another
/// strip only where <see cref="MayRepeat"/> says so.
/// </param>
/// <param name="ToRecord">Makes the record; given how many strips of this identity stand before it in the file.</param>
public sealed record IncomingStrip(FilePlace Spot, string Identity, Func<int, StripRecord> ToRecord)
{
    /// <summary>The file's own name for it; null when it has none.</summary>
    public string? Name { get; init; }

    /// <summary>
    /// Whether two strips of one identity may stand in a file: a table that has neither names nor times cannot tell them apart.
    /// </summary>
    public bool MayRepeat { get; init; }

    /// <summary>
    /// Whether the file has the whole record, so that it is compared whole with what is stored; otherwise what it was read as is compared:
    /// time, lot, line, bottle and reads.
    /// </summary>
    public bool IsWhole { get; init; }

    /// <summary>Whether the file says which revision it is; otherwise it is compared with the newest.</summary>
    public bool HasRevision { get; init; }

    /// <summary>The lot to add when the store has none of that code; null when a strip of an unknown lot is refused.</summary>
    public Func<StripRecord, StripLot>? NewLot { get; init; }
}

/// <summary>What became of a strip, or would.</summary>
public enum ImportFate
{
    /// <summary>It is new.</summary>
    Added,

    /// <summary>It is a newer revision of a strip that is there.</summary>
    Revised,

    /// <summary>It is there already, the same.</summary>
    AlreadyThere,

    /// <summary>It is there already with other values; what is stored stays.</summary>
    Conflict,

    /// <summary>It stands in the file a second time, the same.</summary>
    Repeated,
}

/// <summary>What became of one strip of the file.</summary>
/// <param name="Spot">Where the file has it.</param>
/// <param name="Difference">With a conflict the first difference, in words; null otherwise.</param>
public sealed record ImportedEntry(FilePlace Spot, StripRecord Strip, ImportFate Fate, string? Difference = null)
{
    /// <summary>The file's own name for it; null when it has none.</summary>
    public string? Name { get; init; }

    /// <summary>Whether another strip of the file has the same time, lot and line, so that only their order tells them apart.</summary>
    public bool SharesIdentity { get; init; }

    /// <summary>The lot that was added for it; null when there was no need.</summary>
    public StripLot? NewLot { get; init; }
}

/// <summary>The file that strips are imported from.</summary>
/// <param name="File">Its name, as the user gave it.</param>
/// <param name="Hash">SHA-256 of its bytes, hexadecimal.</param>
public sealed record ImportSource(string File, string Hash)
{
    /// <summary>Reads a file once through for its hash.</summary>
    /// <exception cref="IOException">It cannot be opened.</exception>
    public static async Task<ImportSource> OfAsync(string file, CancellationToken cancellationToken)
    {
        await using var stream = System.IO.File.OpenRead(file);
        return new ImportSource(file, Convert.ToHexStringLower(await SHA256.HashDataAsync(stream, cancellationToken)));
    }
}
