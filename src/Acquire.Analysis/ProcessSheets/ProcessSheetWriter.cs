using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using Acquire.Domain.Densitometry;
using Acquire.Domain.Processes;
using Acquire.Domain.Strips;

namespace Acquire.Analysis.ProcessSheets;

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
        WriteLayout(json, sheet.Layout);
        json.WriteStartArray("parameters");
        foreach (var parameter in sheet.Parameters)
        {
            WriteParameter(json, parameter);
        }

        json.WriteEndArray();
        WriteOptional(json, "note", sheet.Note);
        json.WriteEndObject();
    }

    private static void WriteLayout(Utf8JsonWriter json, StripLayout layout)
    {
        json.WriteStartObject("layout");
        json.WriteString("name", layout.Name);
        json.WriteStartArray("patches");
        foreach (var patch in layout.Patches)
        {
            json.WriteStartObject();
            json.WriteString("key", patch.Key);
            json.WriteString("name", patch.Name);
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static void WriteParameter(Utf8JsonWriter json, Parameter parameter)
    {
        json.WriteStartObject();
        json.WriteString("key", parameter.Key);
        json.WriteString("name", parameter.Name);
        json.WriteString("standsFor", parameter.StandsFor);
        switch (parameter)
        {
            case PatchParameter patch:
                json.WriteString("kind", "patch");
                json.WriteString("patch", patch.PatchKey);
                WriteChannels(json, patch.Channels);
                break;
            case DifferenceParameter difference:
                json.WriteString("kind", "difference");
                json.WriteString("patch", difference.PatchKey);
                json.WriteString("minus", difference.MinusPatchKey);
                WriteChannels(json, difference.Channels);
                break;
            case SpreadParameter spread:
                json.WriteString("kind", "spread");
                json.WriteString("of", spread.OfKey);
                break;
            default:
                throw new NotSupportedException($"Parameter '{parameter.Key}' is of a kind that cannot be written.");
        }

        WriteLimits(json, parameter.Limits);
        json.WriteEndObject();
    }

    private static void WriteChannels(Utf8JsonWriter json, IEnumerable<Channel> channels)
    {
        json.WriteStartArray("channels");
        foreach (var channel in channels)
        {
            json.WriteStringValue(channel.Word());
        }

        json.WriteEndArray();
    }

    private static void WriteLimits(Utf8JsonWriter json, ParameterLimits limits)
    {
        var source = limits.Action?.Source ?? limits.Control?.Source;
        WriteLimit(json, "action", limits.Action, source);
        WriteLimit(json, "control", limits.Control, source);
        WriteOptional(json, "source", source);
    }

    private static void WriteLimit(Utf8JsonWriter json, string name, Limit? limit, string? commonSource)
    {
        if (limit is null)
        {
            return;
        }

        json.WriteStartObject(name);
        WriteOptional(json, "lower", limit.Lower);
        WriteOptional(json, "upper", limit.Upper);
        WriteOptional(json, "source", limit.Source == commonSource ? null : limit.Source);
        json.WriteEndObject();
    }

    private static void WriteOptional(Utf8JsonWriter json, string name, string? text)
    {
        if (text is not null)
        {
            json.WriteString(name, text);
        }
    }

    private static void WriteOptional(Utf8JsonWriter json, string name, double? number)
    {
        if (number is { } value)
        {
            json.WriteNumber(name, value);
        }
    }
}
