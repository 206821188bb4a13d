using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace Acquire.Rendering;

/// <summary>JSON for other programs: camel case, nulls written, numbers unrounded.</summary>
internal static class JsonOutput
{
    private static readonly JsonSerializerOptions Options = new(JsonSerializerDefaults.Web)
    {
        WriteIndented = true,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.CamelCase) },
    };

    public static void Write<T>(IAnsiConsole console, T value) => console.Line(JsonSerializer.Serialize(value, Options));
}
