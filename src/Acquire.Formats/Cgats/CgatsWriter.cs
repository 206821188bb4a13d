using System.Text;

namespace Acquire.Formats.Cgats;

/// <summary>
/// Writes CGATS.17 / ISO 28178 text strictly: ASCII, the identifier first, every header with its required keywords, own keywords declared
/// before their use, only fields of the standard, counts that agree, text in quotes, and <c>""</c> for a missing value.
/// </summary>
public sealed class CgatsWriter(TextWriter text)
{
    private readonly HashSet<string> _declared = new(StringComparer.Ordinal);
    private bool _begun;

    /// <summary>Writes one table; a file may have any number.</summary>
    /// <exception cref="ArgumentException">The table cannot be written to the letter of the format; the message says what.</exception>
    public async Task WriteAsync(CgatsTable table, CancellationToken cancellationToken)
    {
        Check(table);
        cancellationToken.ThrowIfCancellationRequested();
        if (!_begun)
        {
            await text.WriteAsync(CgatsWords.Identifier + "\n");
            _begun = true;
        }

        foreach (var (name, value) in table.Keywords)
        {
            // A declaration holds for the whole file, so the tables behind must not repeat it.
            if (!CgatsWords.Predefined.Contains(name) && _declared.Add(name))
            {
                await text.WriteAsync($"KEYWORD\t\"{name}\"\n");
            }

            await text.WriteAsync($"{name}\t\"{value}\"\n");
        }

        await text.WriteAsync(string.Create(CultureInfo.InvariantCulture, $"NUMBER_OF_FIELDS\t{table.Fields.Length}\nBEGIN_DATA_FORMAT\n"));
        await text.WriteAsync(string.Join('\t', table.Fields) + "\nEND_DATA_FORMAT\n");
        await text.WriteAsync(string.Create(CultureInfo.InvariantCulture, $"NUMBER_OF_SETS\t{table.Sets.Length}\nBEGIN_DATA\n"));
        foreach (var set in table.Sets)
        {
            await text.WriteAsync(string.Join('\t', set.Values.Select((v, i) => Value(table.Fields[i], v))) + "\n");
        }

        await text.WriteAsync("END_DATA\n");
    }

    private static string Value(string field, string value) =>
        value.Length == 0 || CgatsWords.TextFields.Contains(field) ? $"\"{value}\"" : value;

    private static void Check(CgatsTable table)
    {
        foreach (var required in CgatsWords.Required)
        {
            Demand(table[required] is { Length: > 0 }, $"the header lacks {required}");
        }

        foreach (var (name, value) in table.Keywords)
        {
            Demand(CgatsWords.IsName(name) && !name.StartsWith("NUMBER_OF_", StringComparison.Ordinal), $"'{name}' cannot be a keyword");
            Demand(IsText(value), $"the value of {name} has a quote or what is not printable ASCII");
        }

        Demand(!table.Fields.IsDefaultOrEmpty && table.Fields.All(CgatsWords.Fields.Contains), "a field is none of the standard's");
        foreach (var set in table.Sets)
        {
            Demand(set.Values.Length == table.Fields.Length, "a set has other than a value per field");
            Demand(set.Values.All(IsText), "a value has a quote or what is not printable ASCII");
            Demand(
                set.Values.Where((v, i) => v.Length > 0 && !CgatsWords.TextFields.Contains(table.Fields[i])).All(
                    v => !v.Contains(' ', StringComparison.Ordinal)),
                "a value that is no text has a blank");
        }
    }

    private static bool IsText(string value) => value.All(c => c is >= ' ' and <= '~' and not '"');

    private static void Demand(bool holds, string otherwise)
    {
        if (!holds)
        {
            throw new ArgumentException($"The table cannot be written: {otherwise}.");
        }
    }
}

/// <summary>
/// Text of any script in printable ASCII without quotes: a backslash, a quote and what is not printable ASCII become <c>\uNNNN</c>, four
/// hexadecimal digits of a UTF-16 unit. The format has no escape of its own.
/// </summary>
internal static class EscapedText
{
    public static string Of(string? text)
    {
        if (text is null || text.All(IsPlain))
        {
            return text ?? "";
        }

        var escaped = new StringBuilder();
        foreach (var c in text)
        {
            _ = IsPlain(c) ? escaped.Append(c) : escaped.Append("\\u").Append(((int)c).ToString("X4", CultureInfo.InvariantCulture));
        }

        return escaped.ToString();
    }

    /// <summary>The text again; a backslash that begins no escape stays as it is.</summary>
    public static string Back(string escaped)
    {
        var text = new StringBuilder();
        for (var i = 0; i < escaped.Length; i++)
        {
            if (escaped[i] == '\\' && i + 5 < escaped.Length && escaped[i + 1] == 'u'
                && ushort.TryParse(escaped.AsSpan(i + 2, 4), NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture, out var unit))
            {
                _ = text.Append((char)unit);
                i += 5;
            }
            else
            {
                _ = text.Append(escaped[i]);
            }
        }

        return text.ToString();
    }

    private static bool IsPlain(char c) => c is >= ' ' and <= '~' and not ('"' or '\\');
}
