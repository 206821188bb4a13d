using System.Text.Json;

namespace Acquire.Formats.ProcessSheets;

/// <summary>Writes members that may be absent.</summary>
internal static class OptionalMembers
{
    public static void WriteOptional(this Utf8JsonWriter json, string name, string? text)
    {
        if (text is not null)
        {
            json.WriteString(name, text);
        }
    }

    public static void WriteOptional(this Utf8JsonWriter json, string name, double? number)
    {
        if (number is { } value)
        {
            json.WriteNumber(name, value);
        }
    }
}
