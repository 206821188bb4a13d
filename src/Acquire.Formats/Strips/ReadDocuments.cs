using System.Runtime.InteropServices;
namespace Acquire.Formats.Strips;

/// <summary>The reads of a patch as JSON.</summary>
internal sealed record PatchReadsDocument(string Key, string Name, ExclusionDocument? LeftOut, ImmutableArray<ReadDocument> Reads)
{
    public static PatchReadsDocument Of(PatchReads reads) => new(
        reads.Patch.Key, reads.Patch.Name, ExclusionDocument.Of(reads.LeftOut), [.. reads.Reads.Select(ReadDocument.Of)]);

    public PatchReads ToReads() => new(new Patch(Key, Name), [.. Reads.Select(r => r.ToRead())], LeftOut?.ToExclusion());
}

/// <summary>A read as JSON. The densities are decimal, so that the digits come out as they were shown.</summary>
internal sealed record ReadDocument(
    string At,
    decimal? Red, decimal? Green, decimal? Blue, decimal? Visual, ExclusionDocument? Excluded, ImmutableArray<LineDocument> Lines,
    string? Note = null)
{
    public static ReadDocument Of(PatchRead read)
    {
        var densities = read.Reading.Densities;
        return new ReadDocument(
            Written.Time(read.Reading.At),
            densities.Red?.Value,
            densities.Green?.Value,
            densities.Blue?.Value,
            densities.Visual?.Value,
            ExclusionDocument.Of(read.Exclusion),
            [.. (read.Reading.IsEntered ? [] : read.Reading.Lines).Select(LineDocument.Of)],
            read.Note);
    }

    public PatchRead ToRead() => new(
        new Reading(
            new ChannelDensities(Density(Red), Density(Green), Density(Blue), Density(Visual)),
            Written.Time(At), [.. Lines.Select(l => l.ToLine())]),
        Excluded?.ToExclusion()) { Note = Note };

    private static Density? Density(decimal? value) => value is { } shown ? new Density(shown) : null;
}

/// <summary>Why something does not count.</summary>
internal sealed record ExclusionDocument(string Reason, string At)
{
    public static ExclusionDocument? Of(Exclusion? exclusion) =>
        exclusion is null ? null : new(exclusion.Reason, Written.Time(exclusion.At));

    public Exclusion ToExclusion() => new(Reason, Written.Time(At));
}

/// <summary>A raw line: its bytes in Base64, and the same for the eye.</summary>
internal sealed record LineDocument(string ReceivedAt, string Base64, string Text)
{
    public static LineDocument Of(RawLine line) =>
        new(Written.Time(line.ReceivedAt), Convert.ToBase64String(ImmutableCollectionsMarshal.AsArray(line.Bytes) ?? []), line.Text);

    /// <summary>The bytes count; the text is for the eye.</summary>
    public RawLine ToLine() => new(ImmutableArray.Create(Convert.FromBase64String(Base64)), Written.Time(ReceivedAt));
}
