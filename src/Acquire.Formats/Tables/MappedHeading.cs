using Acquire.Formats.Csv;

namespace Acquire.Formats.Tables;

/// <summary>A column map laid over the heading of a file: which cell is which.</summary>
internal sealed record MappedHeading(
    ImmutableDictionary<string, int> Roles, ImmutableArray<(int Index, DensityColumn Column)> Densities, ImmutableArray<string> Cells)
{
    /// <exception cref="ImportException">The map names a column that the heading lacks, or the file lacks one that is needed.</exception>
    public static MappedHeading Of(CsvLine heading, ColumnMap map)
    {
        var cells = heading.Cells.Select(c => c.Trim()).ToImmutableArray();
        var used = map.Rows == RowKind.Strip ? map.Columns.Where(c => !ColumnRoles.OfRead.Contains(c.Key)) : map.Columns;
        var roles = used.ToImmutableDictionary(c => c.Key, c => Index(c.Value, c.Key));
        var densities = map.Rows == RowKind.Strip ? map.Densities.Select(d => (Index(d.Column, "a density"), d)).ToImmutableArray() : [];
        string[] needed = map.Rows == RowKind.Strip ? ["processed_at"] : ["processed_at", "patch"];
        if (needed.FirstOrDefault(n => !roles.ContainsKey(n)) is { } missing)
        {
            throw heading.Place.Wrong($"the map names no column for {missing}; the file has {Shown()}");
        }

        if (!roles.ContainsKey("lot") && !map.Constants.ContainsKey("lot"))
        {
            throw heading.Place.Wrong(
                "neither a column nor a constant of the map gives the lot. Add it to the map, under columns or constants, or give --lot "
                + "CODE");
        }

        if (map.Rows == RowKind.Patch
            && !Domain.Densitometry.Channels.All.Any(c => roles.ContainsKey(Domain.Densitometry.Channels.Word(c))))
        {
            throw heading.Place.Wrong($"the map names no column for red, green, blue or visual; the file has {Shown()}");
        }

        return new MappedHeading(roles, densities, cells);

        int Index(string name, string role)
        {
            var found = Enumerable.Range(0, cells.Length)
                .Where(i => string.Equals(cells[i], name.Trim(), StringComparison.OrdinalIgnoreCase))
                .ToList();
            return found switch
            {
                [var one] => one,
                [] => throw heading.Place.Wrong($"the map takes {role} from column '{FilePlace.Shown(name)}', which the file lacks; it "
                    + $"has {Shown()}. It may be the map of another file"),
                _ => throw heading.Place.Wrong(
                    $"the file has {found.Count} columns '{FilePlace.Shown(name)}'; expected one, to know which {role} is"),
            };
        }

        string Shown() => string.Join(", ", cells.Take(40).Select(c => $"'{FilePlace.Shown(c)}'"));
    }
}
