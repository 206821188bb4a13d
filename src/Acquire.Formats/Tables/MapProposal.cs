using System.Text.RegularExpressions;
using Acquire.Formats.Csv;
using Acquire.Formats.Strips;

namespace Acquire.Formats.Tables;

/// <summary>A column map as the heading of a file suggests it.</summary>
/// <param name="Map">The map, as far as the heading tells.</param>
/// <param name="Unknown">Headings that nothing was found for; they are passed over.</param>
/// <param name="IsSure">Whether the heading is one of this program's own, so that no map need be saved.</param>
public sealed partial record MapProposal(ColumnMap Map, ImmutableArray<string> Unknown, bool IsSure)
{
    /// <summary>
    /// Usual headings, with what is no letter or digit left out; the first of a line are this program's own. Common practice, no source.
    /// </summary>
    private static readonly (string Role, string[] Words)[] Usual =
    [
        ("strip", ["strip", "stripid", "stripno", "stripnr", "stripnumber", "nr", "no", "number", "id"]),
        ("processed_at", ["processedat", "date", "processed", "datum", "day", "datetime", "dateprocessed", "processdate"]),
        ("time", ["time", "zeit", "hour", "timeofday", "uhrzeit"]),
        ("lot", ["lot", "code", "codenumber", "codeno", "batch", "lotno", "lotnumber", "charge"]),
        ("process", ["process"]),
        ("line", ["line", "processline", "processor", "machine", "tank", "linie", "maschine"]),
        ("bottle", ["bottle", "developer", "dev", "flasche", "entwickler"]),
        ("note", ["note", "notes", "remark", "remarks", "comment", "comments", "bemerkung"]),
        ("read_by", ["readby", "by", "operator", "who", "name", "initials"]),
        ("revision", ["revision"]),
        ("instrument", ["instrument", "densitometer"]),
        ("profile", ["profile"]),
        ("profile_hash", ["profilehash"]),
        ("port", ["port"]),
        ("patch", ["patch", "step", "field", "feld", "samplename"]),
        ("read", ["read", "reading", "readno", "repeat", "messung"]),
        ("red", ["red", "r", "dred", "rot"]),
        ("green", ["green", "g", "dgreen", "grün", "gruen"]),
        ("blue", ["blue", "b", "dblue", "blau"]),
        ("visual", ["visual", "v", "vis", "dvis"]),
        ("read_at", ["readat"]),
        ("excluded_reason", ["excludedreason"]),
        ("excluded_at", ["excludedat"]),
        ("left_out_reason", ["leftoutreason"]),
        ("left_out_at", ["leftoutat"]),
    ];

    /// <summary>With these under their own names a file needs no map.</summary>
    private static readonly string[] Contract = ["strip", "processed_at", "lot", "patch", "red"];

    /// <summary>Proposes a map from the first row of a file.</summary>
    /// <param name="layout">The patches that headings may name.</param>
    /// <exception cref="ImportException">The file is empty or no CSV.</exception>
    /// <exception cref="IOException">The file cannot be opened.</exception>
    public static async Task<MapProposal> OfAsync(string file, StripLayout layout, CancellationToken cancellationToken) =>
        Of(
            (await CsvTable.ReadAsync(file, "a heading and rows", null, trim: true, cancellationToken).FirstAsync(cancellationToken)).Cells,
            layout);

    internal static MapProposal Of(string[] headings, StripLayout layout)
    {
        var columns = new SortedDictionary<string, string>(StringComparer.Ordinal);
        var densities = new List<DensityColumn>();
        var unknown = new List<string>();
        foreach (var heading in headings.Where(h => h.Trim().Length > 0))
        {
            if (RoleOf(Plain(heading)) is { } role && columns.TryAdd(role, heading))
            {
                continue;
            }

            if (Density(heading, layout) is { } density)
            {
                densities.Add(density);
            }
            else
            {
                unknown.Add(heading);
            }
        }

        // With patches in the headings a row has no patch of its own.
        var perStrip = densities.Count > 0 && !columns.ContainsKey("patch");
        var map = new ColumnMap
        {
            Rows = perStrip ? RowKind.Strip : RowKind.Patch,
            Columns = columns.ToImmutableSortedDictionary(StringComparer.Ordinal),
        };
        if (perStrip)
        {
            map = map with
            {
                Columns = map.Columns.RemoveRange(ColumnRoles.OfRead),
                Densities = [.. densities],
            };
            return new MapProposal(
                map, [.. unknown, .. columns.Where(c => ColumnRoles.OfRead.Contains(c.Key)).Select(c => c.Value)], false);
        }

        var own = headings.SequenceEqual(StripReadsCsv.Headings);
        var plain = columns.All(c => c.Key == c.Value) && Contract.All(columns.ContainsKey);
        return new MapProposal(
            // A file of this program's needs no guessing: how it separates, dates and guards is known.
            own ? map with { Guarded = true, Dates = DateStyle.Ymd, Separator = ',' } : map,
            [.. unknown, .. densities.Select(d => d.Column)],
            own || (plain && unknown.Count == 0));
    }

    /// <summary>What must be said before an import can use the map, a sentence each.</summary>
    public IEnumerable<string> Lacks()
    {
        if (!Map.Columns.ContainsKey("processed_at"))
        {
            yield return "No column looks like a date. Name it in the map: \"columns\": { \"processed_at\": \"…\" }";
        }

        if (!Map.Columns.ContainsKey("lot"))
        {
            yield return "No column looks like the lot. Name it in the map, or write \"constants\": { \"lot\": \"2417\" }, or give --lot.";
        }

        if (Map is { Rows: RowKind.Patch } && !Map.Columns.ContainsKey("patch"))
        {
            yield return "No column looks like a patch, and no heading like a patch with a channel (\"LD R\"). Write \"rows\": "
                + "\"strip\" with \"densities\", or name the patch column.";
        }
    }

    private static string? RoleOf(string word) => Usual.FirstOrDefault(u => u.Words.Contains(word)).Role
        ?? StripTags.InTables.FirstOrDefault(t => Plain(t.Name) == word)?.Name;

    /// <summary>A heading such as <c>LD R</c>, <c>D-max blue</c> or <c>hd_g 2</c>.</summary>
    private static DensityColumn? Density(string heading, StripLayout layout)
    {
        var match = PatchAndChannel().Match(heading);
        if (!match.Success)
        {
            return null;
        }

        var word = Plain(match.Groups["patch"].Value);
        var patch = layout.Patches.FirstOrDefault(p => Plain(p.Key) == word || Plain(p.Name) == word);
        var read = match.Groups["read"].Value is { Length: > 0 } digits ? int.Parse(digits, CultureInfo.InvariantCulture) : 1;
        return patch is null ? null : new DensityColumn(heading, patch.Key, ChannelOf(match.Groups["channel"].Value), Math.Max(1, read));
    }

    private static Channel ChannelOf(string word) => char.ToLowerInvariant(word[0]) switch
    {
        'r' => Channel.Red,
        'g' => Channel.Green,
        'b' => Channel.Blue,
        _ => Channel.Visual,
    };

    private static string Plain(string text) => string.Concat(text.Where(char.IsLetterOrDigit)).ToLowerInvariant();

    [GeneratedRegex(
        @"\A\s*(?<patch>.+?)[\s_.:/-]*(?<channel>red|green|blue|visual|vis|rot|grün|blau|[rgbv])[\s_.#-]*(?<read>[0-9]{0,2})\s*\z",
        RegexOptions.IgnoreCase | RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture,
        1000)]
    private static partial Regex PatchAndChannel();
}
