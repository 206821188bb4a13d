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
