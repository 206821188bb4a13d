using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace Acquire.Formats.Tables;

/// <summary>A column map as a JSON file.</summary>
public static class ColumnMapFile
{
    private static readonly JsonSerializerOptions Options = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
        UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
        ReadCommentHandling = JsonCommentHandling.Skip,
        AllowTrailingCommas = true,
        RespectNullableAnnotations = true,
        WriteIndented = true,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.CamelCase, allowIntegerValues: false) },
    };

    /// <summary>The map as text.</summary>
    public static string Write(ColumnMap map) => JsonSerializer.Serialize(map, Options) + "\n";

    /// <summary>Reads a map.</summary>
    /// <exception cref="ImportException">It is none; the message says file, line and what was expected.</exception>
    /// <exception cref="IOException">The file cannot be opened.</exception>
    public static async Task<ColumnMap> ReadAsync(string file, CancellationToken cancellationToken)
    {
        ColumnMap map;
        try
        {
            map = JsonSerializer.Deserialize<ColumnMap>(await File.ReadAllTextAsync(file, cancellationToken), Options)
                ?? throw new JsonException("the file says null");
        }
        catch (JsonException e)
        {
            throw new FilePlace(file, (int)(e.LineNumber ?? 0) + 1).Wrong(
                $"this is no column map ({(e.Path is { Length: > 0 } path ? path + ": " : "")}"
                + $"{FilePlace.Shown(e.Message, 160).TrimEnd('.')}). "
                + "Make one from the heading of your file: acquire import map new --from FILE --out MAP",
                e);
        }

        return Checked(map, file);
    }

    private static ColumnMap Checked(ColumnMap map, string file)
    {
        string[] known = [.. ColumnRoles.OfStrip, .. ColumnRoles.OfRead];
        if (map.Columns.Keys.Except(known).FirstOrDefault() is { } odd)
        {
            throw new ImportException($"{file}: columns names '{odd}', which is none of {string.Join(", ", known)}.");
        }

        if (map.Constants.Keys.Except(ColumnRoles.Constant).FirstOrDefault() is { } constant)
        {
            throw new ImportException($"{file}: constants names '{constant}', which is none of {string.Join(", ", ColumnRoles.Constant)}.");
        }

        if (map.DecimalMark is not (null or '.' or ','))
        {
            throw new ImportException($"{file}: decimalMark is '{map.DecimalMark}'; expected a point or a comma.");
        }

        if (map.Rows == RowKind.Strip && map.Densities.IsDefaultOrEmpty)
        {
            throw new ImportException($"{file}: with a row per strip, densities lists the columns; it is empty.");
        }

        if (map.Rows == RowKind.Strip
            && map.Densities.GroupBy(d => (d.Patch.ToUpperInvariant(), d.Channel, d.Read)).FirstOrDefault(g => g.Count() > 1) is { } twice)
        {
            throw new ImportException(
                $"{file}: {string.Join(" and ", twice.Select(d => $"'{d.Column}'"))} are both {twice.First().Patch} "
                + $"{twice.Key.Channel.ToString().ToLowerInvariant()}, "
                + $"read {twice.Key.Read}; expected one column each.");
        }

        return map;
    }
}
