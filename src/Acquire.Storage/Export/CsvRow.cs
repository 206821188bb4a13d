namespace Acquire.Storage.Export;

/// <summary>One line of the CSV export; a cell that does not apply to the line's kind is null and comes out empty.</summary>
internal sealed record CsvRow
{
    /// <summary>The columns in order: the header, and where the cell comes from. Text is defused here, in one place.</summary>
    public static (string Header, Func<CsvRow, string?> Cell)[] Columns { get; } =
    [
        ("kind", r => r.Kind),
        ("strip", r => r.Strip),
        ("revision", r => r.Revision),
        ("read_at", r => r.ReadAt),
        ("read_by", r => CellText.Defused(r.ReadBy)),
        ("lot", r => CellText.Defused(r.Lot)),
        ("process", r => CellText.Defused(r.Process)),
        .. StripTags.InTables.Select(t => (t.Name, (Func<CsvRow, string?>)(r => CellText.Defused(t.Of(r.Tags))))),
        ("patch", r => CellText.Defused(r.Patch)),
        ("read", r => r.Read),
        ("red", r => r.Red),
        ("green", r => r.Green),
        ("blue", r => r.Blue),
        ("visual", r => r.Visual),
        ("counts", r => r.Counts),
        ("excluded_reason", r => CellText.Defused(r.ExcludedReason)),
        ("raw", r => CellText.Defused(r.Raw)),
        ("parameter", r => CellText.Defused(r.Parameter)),
        ("parameter_name", r => CellText.Defused(r.ParameterName)),
        ("channel", r => r.Channel),
        ("value", r => r.Value),
        ("reads", r => r.Reads),
        ("standard_deviation", r => r.StandardDeviation),
        ("aim", r => r.Aim),
        ("deviation", r => r.Deviation),
        ("uncertainty", r => r.Uncertainty),
        ("zone", r => r.Zone),
        ("unit", r => CellText.Defused(r.Unit)),
        ("why", r => CellText.Defused(r.Why)),
    ];

    public required string Kind { get; init; }

    public required string Strip { get; init; }

    public required string Revision { get; init; }

    public required string ReadAt { get; init; }

    public string? ReadBy { get; init; }

    public string? Lot { get; init; }

    public string? Process { get; init; }

    public required StripTags Tags { get; init; }

    public string? Patch { get; init; }

    public string? Read { get; init; }

    public string? Red { get; init; }

    public string? Green { get; init; }

    public string? Blue { get; init; }

    public string? Visual { get; init; }

    public string? Counts { get; init; }

    public string? ExcludedReason { get; init; }

    public string? Raw { get; init; }

    public string? Parameter { get; init; }

    public string? ParameterName { get; init; }

    public string? Channel { get; init; }

    public string? Value { get; init; }

    public string? Reads { get; init; }

    public string? StandardDeviation { get; init; }

    public string? Aim { get; init; }

    public string? Deviation { get; init; }

    public string? Uncertainty { get; init; }

    public string? Zone { get; init; }

    public string? Unit { get; init; }

    public string? Why { get; init; }
}
