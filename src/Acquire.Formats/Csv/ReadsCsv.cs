using System.Runtime.CompilerServices;

namespace Acquire.Formats.Csv;

/// <summary>One read of one patch from a file.</summary>
/// <param name="Place">Where it stands.</param>
/// <param name="Patch">The patch, in the file's word.</param>
/// <param name="Read">Which read; no two reads of one patch, placement, person and instrument are alike.</param>
/// <param name="Placement">Which placement of the patch the read was taken in; null where the file does not say: each read is one.</param>
/// <param name="Values">The number in each channel, with the decimals it is written with.</param>
public sealed record ImportedRead(
    FilePlace Place, string Patch, int Read, string? Placement, ImmutableSortedDictionary<Channel, decimal> Values)
{
    /// <summary>Who read; null where the file does not say.</summary>
    public string? Person { get; init; }

    /// <summary>What it was read on; null where the file does not say.</summary>
    public string? Instrument { get; init; }

    /// <summary>Whether every number could be a density.</summary>
    public bool IsDensities => Values.Values.All(v => Density.IsPossible(DensityText.Shown(v)));

    /// <summary>The numbers as densities.</summary>
    /// <exception cref="ImportException">A number is no density; the message says file, line and what was expected.</exception>
    public ChannelDensities ToDensities() =>
        ChannelDensities.Of(Values.Select(v => KeyValuePair.Create(v.Key, ToDensity(v.Key, DensityText.Shown(v.Value)))));

    private Density ToDensity(Channel channel, decimal value) => Density.IsPossible(value) ? new Density(value) : throw Place.Wrong(
        string.Create(
            CultureInfo.InvariantCulture,
            $"{channel.Word()} is {value}; expected a density between {Density.Least} and {Density.Largest}, such as 0.26"));
}

/// <summary>
/// Reads taken elsewhere, as CSV with the heading <c>patch,read,red,green,blue</c>, or <c>patch,read,visual</c>, in any order and case;
/// <c>visual</c>, <c>placement</c>, <c>person</c> and <c>instrument</c> may be there too, other columns are passed over. Separated by
/// commas, or by semicolons or tabs: then the decimal mark may be a comma.
/// </summary>
public static class ReadsCsv
{
    /// <summary>Larger numbers are a slip whatever they measure.</summary>
    private const decimal Largest = 1_000_000;

    private const string Expected = "patch,read,red,green,blue, or patch,read,visual (visual and placement may be there too)";

    /// <summary>Gives the reads one by one, as they stand in the file.</summary>
    /// <exception cref="ImportException">The file is none of this kind; the message says file, line and what was expected.</exception>
    /// <exception cref="IOException">The file cannot be opened.</exception>
    public static async IAsyncEnumerable<ImportedRead> ReadAsync(string file, [EnumeratorCancellation] CancellationToken cancellationToken)
    {
        Heading? heading = null;
        var taken = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        await foreach (var line in CsvTable.ReadAsync(
            file, $"the heading {Expected} and a line per read", null, trim: true, cancellationToken))
        {
            if (heading is null)
            {
                heading = HeadingOf(line);
                continue;
            }

            var read = Read(line, heading);
            yield return taken.Add(string.Join(
                '\n', read.Patch, read.Placement, read.Person, read.Instrument, read.Read.ToString(CultureInfo.InvariantCulture)))
                ? read
                : throw line.Place.Wrong($"read {read.Read} of patch {read.Patch} stands in the file already; expected each read once");
        }
    }

    private static Heading HeadingOf(CsvLine line)
    {
        var names = line.Cells.Select(c => c.Trim().ToLowerInvariant()).ToList();

        // A black-and-white instrument knows no colours; one colour without the others is a slip.
        var colours = Channels.Colours.Select(c => c.Word()).ToList();
        string[] needed = ["patch", "read", .. names.Contains(Channel.Visual.Word()) && !names.Any(colours.Contains) ? [] : colours];
        if (needed.Where(n => !names.Contains(n)).ToList() is { Count: > 0 } missing)
        {
            throw line.Place.Wrong(
                $"the heading lacks {string.Join(", ", missing)}; expected {Expected}, found "
                + $"'{FilePlace.Shown(string.Join(',', line.Cells))}'");
        }

        if (names.Where(n => n.Length > 0).GroupBy(n => n).FirstOrDefault(g => g.Count() > 1) is { } twice)
        {
            throw line.Place.Wrong($"the heading has '{FilePlace.Shown(twice.Key)}' twice; expected each column once");
        }

        return new Heading(
            names.IndexOf("patch"),
            names.IndexOf("read"),
            names.IndexOf("placement"),
            names.IndexOf("person"),
            names.IndexOf("instrument"),
            [.. Channels.All.Select(c => (c, names.IndexOf(c.Word()))).Where(c => c.Item2 >= 0)]);
    }

    private static ImportedRead Read(CsvLine line, Heading heading) => new(
        line.Place,
        Text(line, heading.Patch, "patch", "ld"),
        int.TryParse(Text(line, heading.Read, "read", "1"), NumberStyles.None, CultureInfo.InvariantCulture, out var read)
            ? read
            : throw line.Place.Wrong($"read is {line.Shown(heading.Read)}; expected a whole number such as 1"),
        heading.Placement < 0 ? null : Text(line, heading.Placement, "placement", "1"),

        // Many files have a visual column beside the colours that some rows leave empty; any other number that is missing is a slip.
        heading.Channels
            .Where(c => line.Cell(c.Column).Length > 0 || c.Channel != Channel.Visual || heading.Channels.Length == 1)
            .ToImmutableSortedDictionary(c => c.Channel, c => Value(line, c.Column, c.Channel)))
    {
        Person = Said(line, heading.Person),
        Instrument = Said(line, heading.Instrument),
    };

    private static string? Said(CsvLine line, int column) => column >= 0 && line.Cell(column) is { Length: > 0 } text ? text : null;

    private static string Text(CsvLine line, int column, string name, string example) => line.Cell(column) is { Length: > 0 } text
        ? text
        : throw line.Place.Wrong($"{name} is empty; expected a word or number such as {example}");

    private static decimal Value(CsvLine line, int column, Channel channel) => decimal.TryParse(
        line.Number(column), NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var value)
        && Math.Abs(value) <= Largest
            ? value
            : throw line.Place.Wrong($"{channel.Word()} is {line.Shown(column)}; expected a density such as 0.26");

    /// <summary>Which column is which; -1 for one that the file does not have.</summary>
    private sealed record Heading(
        int Patch, int Read, int Placement, int Person, int Instrument, ImmutableArray<(Channel Channel, int Column)> Channels);
}
