using System.Text.Json;

namespace Acquire.Formats.ProcessSheets;

/// <summary>Writes the strip layouts of a process sheet: one as <c>layout</c>, several as <c>layouts</c>.</summary>
internal static class LayoutWriter
{
    public static void WriteAll(Utf8JsonWriter json, ImmutableArray<SheetLayout> layouts)
    {
        if (layouts is [var one])
        {
            json.WritePropertyName("layout");
            Write(json, one, withKey: one.Key != SheetLayout.UsualKey);
            return;
        }

        json.WriteStartArray("layouts");
        foreach (var layout in layouts)
        {
            Write(json, layout, withKey: true);
        }

        json.WriteEndArray();
    }

    private static void Write(Utf8JsonWriter json, SheetLayout layout, bool withKey)
    {
        json.WriteStartObject();
        json.WriteOptional("key", withKey ? layout.Key : null);
        json.WriteString("name", layout.Strip.Name);
        json.WriteOptional("exposure", layout.Scale is ExposureScale.LuxSeconds ? "lux seconds" : null);
        json.WriteOptional("note", layout.Note);
        json.WriteStartArray("patches");
        foreach (var patch in layout.Patches)
        {
            json.WriteStartObject();
            json.WriteString("key", patch.Patch.Key);
            json.WriteString("name", patch.Patch.Name);
            json.WriteOptional("logH", patch.LogH);
            json.WriteOptional("role", patch.Role is PatchRole.Curve ? "curve" : null);
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteEndObject();
    }
}
