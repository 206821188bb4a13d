using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace Acquire.Formats.Json;

/// <summary>
/// How this project spells JSON, in files, snapshots, exports and answers to commands: names in camel case, letters of all scripts as they
/// are, for the text goes into files and not into pages.
/// </summary>
public static class JsonText
{
    /// <summary>On one line; what is null is left out.</summary>
    public static JsonSerializerOptions Options { get; } = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.CamelCase, allowIntegerValues: false) },
    };

    /// <summary>For files that people edit: indented, and read with comments and trailing commas.</summary>
    public static JsonSerializerOptions Edited { get; } = new(Options)
    {
        WriteIndented = true,
        NewLine = "\n",
        ReadCommentHandling = JsonCommentHandling.Skip,
        AllowTrailingCommas = true,
    };
}
