using Acquire.Formats.Csv;

namespace Acquire.Formats.Strips;

/// <summary>
/// The reads of strips as CSV, a row per read, in the columns that an import takes without a map. A patch without reads has a row without
/// densities.
/// </summary>
public static class StripReadsCsv
{
    private static readonly (string Heading, Func<Row, string?> Cell)[] Columns =
    [
        ("strip", r => Written.Id(r.Strip.Id)),
        ("processed_at", r => Written.Time(r.Strip.Provenance.At)),
        ("lot", r => CellText.Defused(r.Strip.LotCode)),
        .. Texts(t => t.IsPlace),
        ("patch", r => CellText.Defused(r.Patch.Patch.Key)),
        ("read", r => r.Read is null ? null : CellText.Number(r.Number)),
        ("red", r => Written.Density(r.Read?.Reading.Densities.Red)),
        ("green", r => Written.Density(r.Read?.Reading.Densities.Green)),
        ("blue", r => Written.Density(r.Read?.Reading.Densities.Blue)),
        ("visual", r => Written.Density(r.Read?.Reading.Densities.Visual)),
        ("read_at", r => r.Read is { } read ? Written.Time(read.Reading.At) : null),
        ("read_by", r => CellText.Defused(r.Strip.Provenance.By)),
        ("process", r => CellText.Defused(r.Strip.JudgedBy.Key)),
        .. Texts(t => !t.IsPlace),
        ("excluded_reason", r => CellText.Defused(r.Read?.Exclusion?.Reason)),
        ("excluded_at", r => r.Read?.Exclusion is { } exclusion ? Written.Time(exclusion.At) : null),
        ("left_out_reason", r => CellText.Defused(r.Patch.LeftOut?.Reason)),
        ("left_out_at", r => r.Patch.LeftOut is { } leftOut ? Written.Time(leftOut.At) : null),
        ("revision", r => CellText.Number(r.Strip.Revision.Number)),
    ];

    /// <summary>The headings, in order.</summary>
    public static ImmutableArray<string> Headings { get; } = [.. Columns.Select(c => c.Heading)];

    /// <summary>Writes strips one by one and leaves the stream open.</summary>
    public static Task WriteAsync(IAsyncEnumerable<StripRecord> strips, Stream stream, CancellationToken cancellationToken) =>
        CsvTable.WriteAsync(stream, Columns, strips.SelectMany(s => s.Patches.SelectMany(p => Rows(s, p))), cancellationToken);

    private static IEnumerable<(string, Func<Row, string?>)> Texts(Func<TextTag, bool> which) =>
        StripTags.InTables.Where(which).Select(t => (t.Name, (Func<Row, string?>)(r => CellText.Defused(t.Of(r.Strip.Tags)))));

    private static IEnumerable<Row> Rows(StripRecord strip, PatchReads patch) => patch.Reads.IsEmpty
        ? [new Row(strip, patch, 0, null)]
        : patch.Reads.Select((read, i) => new Row(strip, patch, i + 1, read));

    private sealed record Row(StripRecord Strip, PatchReads Patch, int Number, PatchRead? Read);
}
