using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;

namespace Acquire.Formats.ProcessSheets;

/// <summary>Writes a process sheet as JSON that <see cref="ProcessSheetReader"/> reads back to an equal sheet.</summary>
public static class ProcessSheetWriter
{
    // The text goes into a file, not into a page, so that the minus sign of HD − LD may stay a minus sign.
    private static readonly JsonWriterOptions Options = new()
    {
        Indented = true,
        NewLine = "\n",
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    /// <summary>The JSON text, indented by two, with a newline at the end.</summary>
    public static string Write(ProcessSheet sheet)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream, Options))
        {
            WriteSheet(json, sheet);
        }

        return Encoding.UTF8.GetString(stream.ToArray()) + "\n";
    }

    private static void WriteSheet(Utf8JsonWriter json, ProcessSheet sheet)
    {
        json.WriteStartObject();
        json.WriteString("key", sheet.Key);
        json.WriteString("name", sheet.Name);
        json.WriteString("status", sheet.Status == DensityStatus.Visual ? "visual" : sheet.Status.ToString());
        if (sheet.Geometry is DensityGeometry.Reflection)
        {
            json.WriteString("geometry", "reflection");
        }

        LayoutWriter.WriteAll(json, sheet.Layouts);
        json.WriteStartArray("parameters");
        foreach (var parameter in sheet.Parameters)
        {
            ParameterWriter.Write(json, parameter);
        }

        json.WriteEndArray();
        json.WriteOptional("note", sheet.Note);
        json.WriteEndObject();
    }
}

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
