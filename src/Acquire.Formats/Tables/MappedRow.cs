using Acquire.Formats.Csv;

namespace Acquire.Formats.Tables;

internal sealed class MappedRow(CsvLine row, MappedHeading heading, ColumnMap map, DateStyle dates, LocalClock clock)
{
    public FilePlace Spot => row.Place;

    /// <summary>The text of a role, from its column or from the constants of the map; null when there is none.</summary>
    public string? Text(string role) =>
        heading.Roles.TryGetValue(role, out var index) && Cell(index) is { Length: > 0 } text
            ? text
            : map.Constants.GetValueOrDefault(role);

    public string Needed(string role) =>
        Text(role) ?? throw Spot.Wrong($"{role} is empty; expected a word or number in column '{Heading(role)}'");

    /// <summary>The date with the time that a column of its own may have.</summary>
    public string DateCell => string.Join(' ', new[] { Needed("processed_at"), Text("time") }.Where(t => t is not null));

    public (DateTimeOffset At, string? Note) Time(string text, string role) => DateText.Parse(text, dates) is { } written
        ? clock.At(written)
        : throw Spot.Wrong($"{role} is '{FilePlace.Shown(text)}'; expected a date {DateScan.Example(dates)}");

    public DateTimeOffset? Time(string role) => Text(role) is { } text ? Time(text, role).At : null;

    public int? Count(string role) => Text(role) is not { } text ? null
        : int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var number) && number > 0 ? number
        : throw Spot.Wrong($"{role} is '{FilePlace.Shown(text)}'; expected a whole number from 1");

    public Density? Density(int index, string what)
    {
        var cell = Cell(index).Trim();
        if (cell.Length == 0)
        {
            return null;
        }

        var mark = map.DecimalMark is { } only ? only : cell.Contains(',', StringComparison.Ordinal) ? ',' : '.';
        var text = mark == ',' && !cell.Contains('.', StringComparison.Ordinal) ? cell.Replace(',', '.') : cell;
        // A cell with both marks would be one thousand or one, as one reads it: refused.
        var fits = mark == '.' || !cell.Contains('.', StringComparison.Ordinal);
        return fits && DensityText.TryRead(text, out var density) ? density : throw Spot.Wrong(
            $"{what} is '{FilePlace.Shown(cell)}' in column '{FilePlace.Shown(heading.Cells[index])}'; expected a density such as "
            + $"0{mark}26, or an empty cell");
    }

    public Exclusion? Exclusion(string kind) =>
        Text(kind + "_reason") is { } reason ? new Exclusion(reason, Time(kind + "_at") ?? Time(DateCell, "processed_at").At) : null;

    /// <summary>The patch in the sheet's word.</summary>
    public string Patch(string word) =>
        map.Patches.FirstOrDefault(p => string.Equals(p.Key, word, StringComparison.OrdinalIgnoreCase)).Value ?? word;

    public IEnumerable<(DensityColumn Column, Density? Density)> Densities() =>
        heading.Densities.Select(d => (d.Column, Density(d.Index, $"{d.Column.Patch} {d.Column.Channel.Word()}")));

    public ChannelDensities? Colours()
    {
        Density? Of(Channel channel) => heading.Roles.TryGetValue(channel.Word(), out var index) ? Density(index, channel.Word()) : null;
        var (red, green, blue, visual) = (Of(Channel.Red), Of(Channel.Green), Of(Channel.Blue), Of(Channel.Visual));
        return red is null && green is null && blue is null && visual is null ? null : new ChannelDensities(red, green, blue, visual);
    }

    private string Cell(int index) => index >= row.Cells.Length ? ""
        : map.Guarded ? row.Cells[index] is ['\'', ..] guarded ? guarded[1..] : row.Cells[index]
        : row.Cells[index].Trim();

    private string Heading(string role) => FilePlace.Shown(map.Columns.GetValueOrDefault(role, role));
}

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
                "neither a column nor a constant of the map gives the lot. "
                + "Add it to the map, under columns or constants, or give --lot CODE");
        }

        if (map.Rows == RowKind.Patch
            && !Channels.All.Any(c => roles.ContainsKey(Channels.Word(c))))
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
