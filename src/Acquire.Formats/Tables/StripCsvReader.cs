using System.Runtime.CompilerServices;
using Acquire.Formats.Csv;
using Acquire.Formats.Strips;

namespace Acquire.Formats.Tables;

/// <summary>Reads strips from a CSV file by a column map: a row per strip, or a row per patch with the rows of a strip together.</summary>
public static class StripCsvReader
{
    /// <summary>Gives the strips one by one, in the order of the file.</summary>
    /// <param name="file">The file.</param>
    /// <param name="map">Which column is which.</param>
    /// <param name="dates">The order of the numbers in dates.</param>
    /// <param name="zone">Time zone of times that have no offset.</param>
    /// <param name="cancellationToken">Cancels between two rows.</param>
    /// <exception cref="ImportException">
    /// The file does not fit the map, or a cell cannot be read; the message says file and line.
    /// </exception>
    /// <exception cref="IOException">The file cannot be opened.</exception>
    public static async IAsyncEnumerable<ImportedStrip> ReadAsync(
        string file, ColumnMap map, DateStyle dates, TimeZoneInfo zone, [EnumeratorCancellation] CancellationToken cancellationToken)
    {
        MappedHeading? heading = null;
        var clock = new LocalClock(zone);
        StripRows? open = null;
        await foreach (var cells in CsvTable.ReadAsync(file, "a heading and rows", map.Separator, !map.Guarded, cancellationToken))
        {
            if (heading is null)
            {
                heading = MappedHeading.Of(cells, map);
                continue;
            }

            var row = new MappedRow(cells, heading, map, dates, clock);
            if (map.Rows == RowKind.Strip)
            {
                yield return StripRows.OfRow(row);
                continue;
            }

            if (open is null || !open.Takes(row))
            {
                if (open is not null)
                {
                    yield return open.ToStrip();
                }

                open = new StripRows(row);
            }

            open.Add(row);
        }

        if (open is not null)
        {
            yield return open.ToStrip();
        }
    }
}
