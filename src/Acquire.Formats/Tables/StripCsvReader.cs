using System.Runtime.CompilerServices;
using Acquire.Formats.Csv;
using Acquire.Formats.Strips;

namespace Acquire.Formats.Tables;

/// <summary>Reads strips from a CSV file by a column map: a row per strip, or a row per patch with the rows of a strip together.</summary>
public static class StripCsvReader
{
    /// <summary>Gives the strips one by one, in the order of the file.</summary>
    /// <param name="map">Which column is which.</param>
    /// <param name="dates">The order of the numbers in dates.</param>
    /// <param name="zone">Time zone of times that have no offset.</param>
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

            // Only the first row of the next strip shows that this one is whole.
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

internal sealed class StripRows(MappedRow first)
{
    private readonly (string?, string, string, string?, string?) _key = Key(first);
    private readonly List<(string Patch, int Line, int? Number, PatchRead? Read, Exclusion? LeftOut)> _rows = [];

    /// <summary>Whether a row belongs to the same strip.</summary>
    /// <remarks>Without names for strips the same read of a patch a second time begins the next one.</remarks>
    public bool Takes(MappedRow row) => Key(row) == _key
        && (row.Text("strip") is not null || row.Count("read") is not { } number || !Has(row.Patch(row.Needed("patch")), number));

    public void Add(MappedRow row)
    {
        var patch = row.Patch(row.Needed("patch"));
        var number = row.Count("read");
        if (number is { } given && Has(patch, given))
        {
            throw row.Spot.Wrong($"read {given} of patch {patch} stands in strip {row.Text("strip")} already; expected each read once");
        }

        var at = row.Time("read_at") ?? row.Time(row.DateCell, "processed_at").At;
        var read = row.Colours() is { } colours ? new PatchRead(Reading.Entered(colours, at), row.Exclusion("excluded")) : null;
        _rows.Add((patch, row.Spot.Line, number, read, row.Exclusion("left_out")));
    }

    public ImportedStrip ToStrip() => Common(first) with
    {
        Patches = [.. _rows.GroupBy(r => r.Patch, StringComparer.OrdinalIgnoreCase).Select(g => new ImportedPatch(
            g.Key,
            g.First().Line,
            [.. g.Where(r => r.Read is not null).OrderBy(r => r.Number).Select(r => r.Read!)],
            g.Select(r => r.LeftOut).FirstOrDefault(l => l is not null)))],
    };

    public static ImportedStrip OfRow(MappedRow row)
    {
        var strip = Common(row);
        var patches = row.Densities().GroupBy(d => row.Patch(d.Column.Patch), StringComparer.OrdinalIgnoreCase);
        return strip with { Patches = [.. patches.Select(p => new ImportedPatch(p.Key, row.Spot.Line, [.. Reads(p, strip.At)]))] };
    }

    private static IEnumerable<PatchRead> Reads(IEnumerable<(DensityColumn Column, Density? Density)> columns, DateTimeOffset at) => columns
        .Where(c => c.Density is not null)
        .GroupBy(c => c.Column.Read)
        .OrderBy(g => g.Key)
        .Select(g => new PatchRead(
            Reading.Entered(ChannelDensities.Of(g.Select(c => KeyValuePair.Create(c.Column.Channel, c.Density!.Value))), at)));

    private static ImportedStrip Common(MappedRow row)
    {
        var (at, note) = row.Time(row.DateCell, "processed_at");
        return new ImportedStrip
        {
            Spot = row.Spot,
            Name = row.Text("strip"),
            Revision = row.Count("revision"),
            At = at,
            Lot = row.Needed("lot"),
            Process = row.Text("process"),
            Tags = StripTags.Of(row.Text),
            By = row.Text("read_by"),
            Instrument = row.Text("profile") is { } profile
                ? new InstrumentInUse(profile, row.Text("profile_hash") ?? "", row.Text("port") ?? "")
                {
                    Name = row.Text("instrument") ?? profile,
                }
                : null,
            Patches = [],
            Notes = [.. new[] { note, Nameless(row) }.OfType<string>()],
        };
    }

    /// <summary>An instrument counts for what is known of it only with the profile that its readings came by.</summary>
    private static string? Nameless(MappedRow row) => row.Text("instrument") is { } name && row.Text("profile") is null
        ? $"the instrument {FilePlace.Shown(name)} is named without a profile, so it is not kept with the strip"
        : null;

    private bool Has(string patch, int number) =>
        _rows.Any(r => r.Number == number && string.Equals(r.Patch, patch, StringComparison.OrdinalIgnoreCase));

    private static (string?, string, string, string?, string?) Key(MappedRow row) =>
        (row.Text("strip"), row.DateCell, row.Needed("lot"), row.Text("line"), row.Text("bottle"));
}
