namespace Acquire.Formats.Workbooks;

/// <summary>The sheets with a row per read; when one is full, the next begins.</summary>
internal sealed class ReadSheets(TimeZoneInfo zone, int mostRows = SheetWriter.MostRows)
{
    private static readonly SheetColumn[] Columns =
    [
        new("Strip", 11), new("Strip read", 18), new("Lot", 10), new("Line", 16), new("Patch", 10), new("Read", 7), new("Red", 8),
        new("Green", 8), new("Blue", 8), new("Visual", 8), new("Read at", 18), new("Counts", 8), new("Why not", 30),
    ];

    /// <summary>Writes sheets as long as there are reads; <paramref name="add"/> adds one that the function given to it fills.</summary>
    public async Task WriteAsync(
        IAsyncEnumerable<StripRecord> strips, Func<Func<SheetWriter, Task>, Task> add, CancellationToken cancellationToken)
    {
        // One enumerator over all sheets: the read that finds a sheet full begins the next.
        await using var rows = Rows(strips).GetAsyncEnumerator(cancellationToken);
        var more = await rows.MoveNextAsync();
        do
        {
            await add(async sheet =>
            {
                await sheet.BeginAsync(Columns);
                while (more && sheet.Rows < mostRows)
                {
                    await sheet.RowAsync(rows.Current);
                    more = await rows.MoveNextAsync();
                }

                await sheet.EndAsync();
            });
        }
        while (more);
    }

    private IAsyncEnumerable<Cell[]> Rows(IAsyncEnumerable<StripRecord> strips) =>
        strips.SelectMany(s => s.Patches.SelectMany(p => p.Reads.Select((r, i) => Row(s, p, r, i + 1))));

    private Cell[] Row(StripRecord strip, PatchReads patch, PatchRead read, int number)
    {
        var densities = read.Reading.Densities;
        return
        [
            Cell.Text(StripId.ShortForm(strip.Id)),
            Cell.Time(strip.Provenance.At, zone),
            Cell.Text(strip.LotCode),
            Cell.Text(strip.Tags.Line),
            Cell.Text(patch.Patch.Key),
            Cell.Number(number),
            .. Channels.All.Select(c => Cell.Number(densities[c]?.ToDouble(), CellStyle.Density)),
            Cell.Time(read.Reading.At, zone),
            Cell.Text(read.Counts && patch.LeftOut is null ? "yes" : "no"),
            Cell.Text(read.Exclusion?.Reason ?? patch.LeftOut?.Reason),
        ];
    }
}
