namespace Acquire.Storage.Export;

/// <summary>The lines that one strip makes: its reads, then its means, then its parameters.</summary>
internal static class CsvRows
{
    public static IEnumerable<CsvRow> Of(StripExport export)
    {
        var strip = export.Strip;
        var common = new CsvRow
        {
            Kind = "read",
            Strip = Sql.Id(strip.Id),
            Revision = CellText.Number(strip.Revision.Number),
            ReadAt = CellText.Time(strip.Provenance.At),
            ReadBy = strip.Provenance.By,
            Lot = strip.LotCode,
            Process = strip.JudgedBy.Key,
            Tags = strip.Tags,
        };
        return
        [
            .. strip.Patches.SelectMany(p => Reads(common, p)),
            .. strip.Means.Select(m => Mean(common, m, strip.Aim(m.PatchKey, m.Channel)?.Value)),
            .. export.Parameters.Select(p => Parameter(common, p)),
        ];
    }

    private static IEnumerable<CsvRow> Reads(CsvRow common, PatchReads patch) => patch.Reads.Select((read, i) => common with
    {
        ReadAt = CellText.Time(read.Reading.At),
        Patch = patch.Patch.Key,
        Read = CellText.Number(i + 1),
        Red = Sql.Density(read.Reading.Densities.Red),
        Green = Sql.Density(read.Reading.Densities.Green),
        Blue = Sql.Density(read.Reading.Densities.Blue),
        Visual = Sql.Density(read.Reading.Densities.Visual),
        Counts = read.Counts && patch.LeftOut is null ? "yes" : "no",
        ExcludedReason = read.Exclusion?.Reason ?? patch.LeftOut?.Reason,
        Raw = read.Reading.IsEntered ? null : string.Join('\n', read.Reading.Lines.Select(l => l.Text)),
    });

    private static CsvRow Mean(CsvRow common, PatchMean mean, double? aim) => common with
    {
        Kind = "mean",
        Patch = mean.PatchKey,
        Channel = mean.Channel.Word(),
        Value = CellText.Number(mean.Mean),
        Reads = CellText.Number(mean.Reads),
        StandardDeviation = CellText.Number(mean.StandardDeviation),
        Aim = CellText.Number(aim),
    };

    private static CsvRow Parameter(CsvRow common, ExportedParameter parameter) => common with
    {
        Kind = "parameter",
        Parameter = parameter.Key,
        ParameterName = parameter.Name,
        Channel = parameter.Channel?.Word(),
        Value = CellText.Number(parameter.Value),
        Aim = CellText.Number(parameter.Aim),
        Deviation = CellText.Number(parameter.Deviation),
        Uncertainty = CellText.Number(parameter.Uncertainty),
        Zone = parameter.Zone is { } zone ? Words<Zone>.Of(zone) : null,
        Unit = parameter.Unit,
        Why = parameter.Why,
    };
}
