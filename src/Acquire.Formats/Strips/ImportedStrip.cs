using System.Buffers.Binary;
using System.Security.Cryptography;
using System.Text;

namespace Acquire.Formats.Strips;

/// <summary>A strip as a table has it: words of the file, which only lot and process sheet turn into a record.</summary>
public sealed record ImportedStrip
{
    /// <summary>Where it begins.</summary>
    public required FilePlace Spot { get; init; }

    /// <summary>The file's own name for the strip; null when it has none. A UUID is the id of a record.</summary>
    public string? Name { get; init; }

    /// <summary>Number of the revision; null where the file does not say.</summary>
    public int? Revision { get; init; }

    /// <summary>When it was processed and read.</summary>
    public required DateTimeOffset At { get; init; }

    public required string Lot { get; init; }

    /// <summary>Key or name of the process; null where the file does not say.</summary>
    public string? Process { get; init; }

    /// <summary>The density status it was read with; null where the file does not say.</summary>
    public DensityStatus? Status { get; init; }

    /// <summary>What the file says of it, as far as tables can.</summary>
    public StripTags Tags { get; init; } = StripTags.None;

    /// <summary>The person; null where the file does not say.</summary>
    public string? By { get; init; }

    /// <summary>The instrument; null when the values were entered.</summary>
    public InstrumentInUse? Instrument { get; init; }

    /// <summary>The patches that the file has, in its order.</summary>
    public required ImmutableArray<ImportedPatch> Patches { get; init; }

    /// <summary>What the user should know about it.</summary>
    public ImmutableArray<string> Notes { get; init; } = [];

    /// <summary>The id of the record, when the name is one.</summary>
    public Guid? Id => Guid.TryParseExact(Name, "D", out var id) ? id : null;
}

/// <summary>A patch of an imported strip.</summary>
/// <param name="Word">Key or name of the patch.</param>
/// <param name="Reads">Its reads, in order.</param>
/// <param name="LeftOut">Why the whole patch does not count; null when it counts.</param>
public sealed record ImportedPatch(string Word, int Line, ImmutableArray<PatchRead> Reads, Exclusion? LeftOut = null);

/// <summary>
/// The id of a strip whose file has none. It follows from what the file says of the strip, and not from the file, so that the same strip
/// gets the same id however often and from whichever copy it is imported. UUID version 8 (RFC 9562 section 5.8): 48 bits of the time in
/// milliseconds as in version 7, then bits of a SHA-256.
/// </summary>
public static class StripIdentity
{
    /// <summary>
    /// What tells a strip from others: its name, time, lot and line; never its readings, so that a corrected reading is found as such.
    /// </summary>
    public static string Of(ImportedStrip strip) => strip.Id is { } id
        ? Written.Id(id)
        : string.Join(
            '\u001f', strip.Name ?? "", Written.Time(strip.At), strip.Lot.ToUpperInvariant(), (strip.Tags.Line ?? "").ToUpperInvariant());

    /// <summary>The id of a strip, given how many of its identity stand before it in the file.</summary>
    public static Guid ToId(ImportedStrip strip, int before) => ToId(strip.At, Of(strip), before);

    /// <summary>The id.</summary>
    /// <param name="at">When the strip was processed.</param>
    /// <param name="identity">What <see cref="Of"/> gives.</param>
    /// <param name="before">How many strips of this identity stand before it in the file.</param>
    public static Guid ToId(DateTimeOffset at, string identity, int before)
    {
        Span<byte> bytes = stackalloc byte[SHA256.HashSizeInBytes];
        _ = SHA256.HashData(Encoding.UTF8.GetBytes(string.Create(CultureInfo.InvariantCulture, $"{before}\u001f{identity}")), bytes);
        Span<byte> time = stackalloc byte[8];
        BinaryPrimitives.WriteInt64BigEndian(time, Math.Max(0, at.ToUnixTimeMilliseconds()));
        // Of the 64 bits the 48 lower ones, which last until the year 10889.
        time[2..].CopyTo(bytes);
        bytes[6] = (byte)((bytes[6] & 0x0F) | 0x80);
        bytes[8] = (byte)((bytes[8] & 0x3F) | 0x80);
        return new Guid(bytes[..16], bigEndian: true);
    }
}
