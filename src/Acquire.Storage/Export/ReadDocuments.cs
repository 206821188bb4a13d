using System.Collections.Immutable;
using Acquire.Domain.Densitometry;
using Acquire.Domain.Strips;
using Acquire.Storage.Rows;
using Acquire.Storage.Sessions;

namespace Acquire.Storage.Export;

/// <summary>The reads of a patch as JSON.</summary>
internal sealed record PatchReadsDocument(string Key, string Name, ExclusionDocument? LeftOut, ImmutableArray<ReadDocument> Reads)
{
    public static PatchReadsDocument Of(PatchReads reads) => new(
        reads.Patch.Key, reads.Patch.Name, ExclusionDocument.Of(reads.LeftOut), [.. reads.Reads.Select(ReadDocument.Of)]);
}

/// <summary>A read as JSON. The densities are decimal, so that the digits come out as they were shown.</summary>
internal sealed record ReadDocument(
    string At, decimal? Red, decimal? Green, decimal? Blue, decimal? Visual, ExclusionDocument? Excluded, ImmutableArray<LineDocument> Lines)
{
    public static ReadDocument Of(PatchRead read)
    {
        var densities = read.Reading.Densities;
        return new ReadDocument(
            Sql.Time(read.Reading.At),
            densities.Red?.Value,
            densities.Green?.Value,
            densities.Blue?.Value,
            densities.Visual?.Value,
            ExclusionDocument.Of(read.Exclusion),
            [.. (read.Reading.IsEntered ? [] : read.Reading.Lines).Select(LineDocument.Of)]);
    }
}

/// <summary>Why something does not count.</summary>
internal sealed record ExclusionDocument(string Reason, string At)
{
    public static ExclusionDocument? Of(Exclusion? exclusion) => exclusion is null ? null : new(exclusion.Reason, Sql.Time(exclusion.At));
}

/// <summary>A raw line: its bytes in Base64, and the same for the eye.</summary>
internal sealed record LineDocument(string ReceivedAt, string Base64, string Text)
{
    public static LineDocument Of(RawLine line) => new(Sql.Time(line.ReceivedAt), Convert.ToBase64String(LineTable.Bytes(line)), line.Text);
}
