using Acquire.Formats.Csv;

namespace Acquire.Formats.Strips;

/// <summary>Strips as CSV for looking at: a line per read, per mean and per parameter.</summary>
public static class StripCsv
{
    /// <summary>The columns in order; a cell that does not apply to the line's kind is empty.</summary>
    private static readonly (string Heading, Func<Line, string?> Cell)[] Columns =
    [
        ("kind", l => l.Read is not null ? "read" : l.Mean is not null ? "mean" : "parameter"),
        ("strip", l => Written.Id(l.Strip.Id)),
        ("revision", l => CellText.Number(l.Strip.Revision.Number)),
        ("read_at", l => Written.Time(l.Read?.Reading.At ?? l.Strip.Provenance.At)),
        ("read_by", l => CellText.Defused(l.Strip.Provenance.By)),
        ("lot", l => CellText.Defused(l.Strip.LotCode)),
        ("process", l => CellText.Defused(l.Strip.JudgedBy.Key)),
        .. StripTags.InTables.Select(t => (t.Name, (Func<Line, string?>)(l => CellText.Defused(t.Of(l.Strip.Tags))))),
        ("patch", l => CellText.Defused(l.Patch?.Patch.Key ?? l.Mean?.PatchKey)),
        ("read", l => l.Read is null ? null : CellText.Number(l.Number)),
        ("red", l => Written.Density(l.Read?.Reading.Densities.Red)),
        ("green", l => Written.Density(l.Read?.Reading.Densities.Green)),
        ("blue", l => Written.Density(l.Read?.Reading.Densities.Blue)),
        ("visual", l => Written.Density(l.Read?.Reading.Densities.Visual)),
        ("counts", l => l.Read is null ? null : l.Read.Counts && l.Patch!.LeftOut is null ? "yes" : "no"),
        ("excluded_reason", l => CellText.Defused((l.Read?.Exclusion ?? l.Patch?.LeftOut)?.Reason)),
        ("raw", l => l.Read is { Reading: { IsEntered: false } reading }
            ? CellText.Defused(string.Join('\n', reading.Lines.Select(r => r.Text)))
            : null),
        ("parameter", l => CellText.Defused(l.Parameter?.Key)),
        ("parameter_name", l => CellText.Defused(l.Parameter?.Name)),
        ("channel", l => (l.Mean?.Channel ?? l.Parameter?.Channel)?.Word()),
        ("value", l => CellText.Number(l.Mean?.Mean ?? l.Parameter?.Value)),
        ("reads", l => l.Mean is { } mean ? CellText.Number(mean.Reads) : null),
        ("standard_deviation", l => CellText.Number(l.Mean?.StandardDeviation)),
        ("aim", l => CellText.Number(l.Mean is { } mean ? l.Strip.Aim(mean.PatchKey, mean.Channel)?.Value : l.Parameter?.Aim)),
        ("deviation", l => CellText.Number(l.Parameter?.Deviation)),
        ("uncertainty", l => CellText.Number(l.Parameter?.Uncertainty)),
        ("zone", l => l.Parameter?.Zone is { } zone ? Words<Zone>.Of(zone) : null),
        ("unit", l => CellText.Defused(l.Parameter?.Unit)),
        ("why", l => CellText.Defused(l.Parameter?.Why)),
        ("rests_on_assumed", l => CellText.Defused(l.Parameter?.RestsOnAssumption)),
        ("instrument", l => CellText.Defused(l.Strip.Provenance.Instrument?.Name)),
    ];

    internal static IEnumerable<string> Headings => Columns.Select(c => c.Heading);

    /// <summary>Writes strips one by one and leaves the stream open.</summary>
    public static Task WriteAsync(IAsyncEnumerable<StripExport> strips, Stream stream, CancellationToken cancellationToken) =>
        CsvTable.WriteAsync(stream, Columns, strips.SelectMany(Lines), cancellationToken);

    private static IEnumerable<Line> Lines(StripExport export) =>
    [
        .. export.Strip.Patches.SelectMany(p => p.Reads.Select((r, i) => new Line(export.Strip) { Patch = p, Number = i + 1, Read = r })),
        .. export.Strip.Means.Select(m => new Line(export.Strip) { Mean = m }),
        .. export.Parameters.Select(p => new Line(export.Strip) { Parameter = p }),
    ];

    /// <summary>A read of a patch, a mean, or a parameter.</summary>
    private sealed record Line(StripRecord Strip)
    {
        public PatchReads? Patch { get; init; }

        public int Number { get; init; }

        public PatchRead? Read { get; init; }

        public PatchMean? Mean { get; init; }

        public ExportedParameter? Parameter { get; init; }
    }
}

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
        ("instrument", r => CellText.Defused(r.Strip.Provenance.Instrument?.Name)),
        ("profile", r => CellText.Defused(r.Strip.Provenance.Instrument?.Profile)),
        ("profile_hash", r => CellText.Defused(r.Strip.Provenance.Instrument?.ProfileHash)),
        ("port", r => CellText.Defused(r.Strip.Provenance.Instrument?.Port)),
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
