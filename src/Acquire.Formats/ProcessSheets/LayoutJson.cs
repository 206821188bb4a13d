using System.Text.Json;

namespace Acquire.Formats.ProcessSheets;

/// <summary>Reads the strip layouts of a process sheet: one under <c>layout</c>, or a list under <c>layouts</c>.</summary>
internal static class LayoutReader
{
    public static ImmutableArray<SheetLayout?> ReadAll(JsonSpot root, SpotProblems problems)
    {
        switch (root.Member("layout"), root.Member("layouts"))
        {
            case (null, null):
                problems.Add(root, "'layout' is missing; expected an object with name, patches, or a list of such under 'layouts'.");
                return [];
            case ({ } one, null):
                return [Read(one, problems, problems.OptionalText(one, "key") ?? SheetLayout.UsualKey)];
            case (null, _):
                return [.. problems.Items(root, "layouts").Select(l => Read(l, problems, null))];
            case (_, { } several):
                problems.Add(several, "'layouts' is given beside 'layout'; expected one of the two.");
                return [];
        }
    }

    private static SheetLayout? Read(JsonSpot spot, SpotProblems problems, string? knownKey)
    {
        if (!problems.IsObject(spot, "name", "patches", "key", "exposure", "note"))
        {
            return null;
        }

        var key = knownKey ?? problems.Text(spot, "key");
        var name = problems.Text(spot, "name");
        var note = problems.OptionalText(spot, "note");
        var scale = problems.OneOf(
            spot,
            "exposure",
            ExposureScale.Relative,
            "exposure scale",
            ("relative", ExposureScale.Relative),
            ("lux seconds", ExposureScale.LuxSeconds));
        var patches = problems.Items(spot, "patches").Select(p => ReadPatch(p, problems)).ToImmutableArray();
        return problems.Make(spot, () => new SheetLayout(key!, name!, [.. patches.Select(p => p!)], scale, note));
    }

    private static LayoutPatch? ReadPatch(JsonSpot spot, SpotProblems problems)
    {
        if (!problems.IsObject(spot, "key", "name", "logH", "role"))
        {
            return null;
        }

        var (key, name) = (problems.Text(spot, "key"), problems.Text(spot, "name"));
        var logH = problems.NullableNumber(spot, "logH");
        var role = problems.OneOf(spot, "role", PatchRole.Judged, "role", ("judged", PatchRole.Judged), ("curve", PatchRole.Curve));
        return problems.Make(spot, () => new LayoutPatch(new Patch(key!, name!), logH, role));
    }
}

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
