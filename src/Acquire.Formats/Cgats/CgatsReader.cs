using System.Runtime.CompilerServices;

namespace Acquire.Formats.Cgats;

/// <summary>
/// Reads CGATS.17 / ISO 28178 text tolerantly: any line ends, blanks or tabs, quotes or none, comments, undeclared keywords in any order,
/// absent counts, no identifier. What contradicts itself is refused, with the line.
/// </summary>
public static class CgatsReader
{
    private const int MostSets = 100_000;

    private const int MostFields = 1000;

    /// <summary>Gives the tables one by one.</summary>
    /// <exception cref="ImportException">
    /// The file is no such text, or contradicts itself; the message says file, line and what was expected.
    /// </exception>
    /// <exception cref="IOException">The file cannot be opened.</exception>
    public static async IAsyncEnumerable<CgatsTable> ReadAsync(string file, [EnumeratorCancellation] CancellationToken cancellationToken)
    {
        using var text = new StreamReader(file);
        var reader = new LineReader(text, file);
        var found = false;
        while (await HeaderAsync(reader, first: !found, cancellationToken) is { } header)
        {
            found = true;
            yield return header with { Sets = await SetsAsync(reader, header, cancellationToken) };
        }

        if (!found)
        {
            throw new ImportException($"{file}: there is no table in it; expected CGATS.17 text with BEGIN_DATA_FORMAT and BEGIN_DATA.");
        }
    }

    /// <summary>Everything up to <c>BEGIN_DATA</c>; null when the file ends before anything.</summary>
    private static async Task<CgatsTable?> HeaderAsync(LineReader reader, bool first, CancellationToken cancellationToken)
    {
        var keywords = ImmutableArray.CreateBuilder<CgatsKeyword>();
        ImmutableArray<string> fields = [];
        var start = 0;
        while (await reader.NextAsync(cancellationToken) is { } line)
        {
            var words = CgatsLine.Words(line.TrimStart('\uFEFF'), reader.Spot);
            if (words.Count == 0)
            {
                continue;
            }

            start = start == 0 ? reader.Spot.Line : start;
            if (words[0].Is("BEGIN_DATA_FORMAT"))
            {
                fields = fields.IsEmpty
                    ? await FieldsAsync(reader, words, cancellationToken)
                    : throw reader.Spot.Wrong("there is a second data format in this table; expected one");
            }
            else if (words[0].Is("BEGIN_DATA"))
            {
                return Table(reader.Spot, start, keywords.ToImmutable(), fields);
            }
            else if (words[0].Is("END_DATA") || words[0].Is("END_DATA_FORMAT"))
            {
                throw reader.Spot.Wrong($"{words[0].Text} stands here without its beginning");
            }
            // A word alone at the very beginning is the identifier, whichever the writer chose.
            else if (!(first && keywords.Count == 0 && fields.IsEmpty && words.Count == 1 && CgatsWords.IsName(words[0].Text))
                && !words[0].Is("KEYWORD"))
            {
                keywords.Add(Keyword(words, keywords, reader.Spot));
            }
        }

        return start == 0 || (keywords.Count == 0 && fields.IsEmpty)
            ? null
            : throw reader.Spot.Wrong("the file ends before BEGIN_DATA; expected a table, so it may be cut off");
    }

    private static CgatsKeyword Keyword(List<CgatsLine.Word> words, IEnumerable<CgatsKeyword> before, FilePlace spot)
    {
        var name = words[0].Text;
        if (words[0].Quoted || !CgatsWords.IsName(name))
        {
            throw spot.Wrong($"'{FilePlace.Shown(name)}' is no keyword; expected letters, digits and _ - . : /");
        }

        var value = string.Join(' ', words.Skip(1).Select(w => w.Text));
        var same = before.FirstOrDefault(k => string.Equals(k.Name, name, StringComparison.OrdinalIgnoreCase));
        return same is not null && same.Value != value && name.StartsWith("NUMBER_OF_", StringComparison.OrdinalIgnoreCase)
            ? throw spot.Wrong($"{name} is {FilePlace.Shown(value)} here and {FilePlace.Shown(same.Value)} before; expected one number")
            : new CgatsKeyword(name, value);
    }

    private static async Task<ImmutableArray<string>> FieldsAsync(
        LineReader reader, List<CgatsLine.Word> begin, CancellationToken cancellationToken)
    {
        var fields = ImmutableArray.CreateBuilder<string>();
        var words = begin[1..];
        while (true)
        {
            // A format may run over lines, and begin and end in the lines of its keywords.
            foreach (var word in words)
            {
                if (word.Is("END_DATA_FORMAT"))
                {
                    return fields.Count > 0 ? fields.ToImmutable() : throw reader.Spot.Wrong("the data format names no field");
                }

                fields.Add(CgatsWords.IsName(word.Text) && fields.Count < MostFields
                    ? word.Text
                    : throw reader.Spot.Wrong(
                        $"'{FilePlace.Shown(word.Text)}' is no name of a field; expected letters, digits and _ - . : /"));
            }

            words = await reader.NextAsync(cancellationToken) is { } line
                ? CgatsLine.Words(line, reader.Spot)
                : throw reader.Spot.Wrong("the file ends before END_DATA_FORMAT, so it is cut off");
        }
    }

    private static CgatsTable Table(FilePlace spot, int line, ImmutableArray<CgatsKeyword> keywords, ImmutableArray<string> fields)
    {
        var table = new CgatsTable { Keywords = keywords, Fields = fields, Sets = [], Line = line };
        if (fields.IsEmpty)
        {
            throw spot.Wrong("BEGIN_DATA comes before any BEGIN_DATA_FORMAT, so the columns have no names");
        }

        return Count(table, "NUMBER_OF_FIELDS", spot) is { } count && count != fields.Length
            ? throw spot.Wrong($"NUMBER_OF_FIELDS is {count} and the data format names {fields.Length} fields; expected the same")
            : table;
    }

    private static async Task<ImmutableArray<CgatsSet>> SetsAsync(LineReader reader, CgatsTable table, CancellationToken cancellationToken)
    {
        var sets = ImmutableArray.CreateBuilder<CgatsSet>();
        while (await reader.NextAsync(cancellationToken) is { } line)
        {
            // Here and not with the words: tabs in a comment would count as fields.
            var words = line.TrimStart().StartsWith('#') ? [] : Values(line, table.Fields.Length, reader.Spot);
            if (words is [var only] && only.Is("END_DATA"))
            {
                return Count(table, "NUMBER_OF_SETS", reader.Spot) is { } count && count != sets.Count
                    ? throw reader.Spot.Wrong(
                        $"NUMBER_OF_SETS is {count} and there are {sets.Count} rows of data; expected the same, so rows may be lost")
                    : sets.ToImmutable();
            }

            if (words.Count == 0)
            {
                continue;
            }

            if (words.Count != table.Fields.Length)
            {
                throw reader.Spot.Wrong(
                    $"the row has {words.Count} values and the data format {table.Fields.Length} fields; expected as many");
            }

            sets.Add(sets.Count < MostSets
                ? new CgatsSet(reader.Spot.Line, [.. words.Select(w => w.Text)])
                : throw reader.Spot.Wrong($"the table has more than {MostSets} rows; expected a table per strip"));
        }

        throw reader.Spot.Wrong("the file ends before END_DATA, so it is cut off; nothing was imported");
    }

    /// <summary>The values of a row; where single tabs give the right number of fields and blanks do not, tabs separate.</summary>
    private static List<CgatsLine.Word> Values(string line, int fields, FilePlace spot)
    {
        var tabbed = CgatsLine.Tabbed(line);
        return fields > 1 && tabbed.Count == fields && !line.Contains('"', StringComparison.Ordinal) ? tabbed : CgatsLine.Words(line, spot);
    }

    private static int? Count(CgatsTable table, string keyword, FilePlace spot) => table[keyword] switch
    {
        null => null,
        var text when int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var count) => count,
        var text => throw spot.Wrong($"{keyword} is '{FilePlace.Shown(text)}'; expected a whole number"),
    };
}
