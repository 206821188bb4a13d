using System.Text.Json;

namespace Acquire.Analysis.ProcessSheets;

/// <summary>Writes one parameter of a process sheet.</summary>
internal static class ParameterWriter
{
    public static void Write(Utf8JsonWriter json, Parameter parameter)
    {
        json.WriteStartObject();
        json.WriteString("key", parameter.Key);
        json.WriteString("name", parameter.Name);
        json.WriteString("standsFor", parameter.StandsFor);
        var (kind, members) = Members(parameter);
        json.WriteString("kind", kind);
        foreach (var (name, value) in members)
        {
            Write(json, name, value);
        }

        if (!parameter.Channels.IsEmpty)
        {
            WriteChannels(json, parameter.Channels);
        }

        LimitsWriter.Write(json, parameter);
        json.WriteEndObject();
    }

    /// <summary>
    /// The word of each kind in a file, and what it alone has: keys of patches or parameters, numbers, places on the curve.
    /// </summary>
    private static (string Kind, (string Name, object? Value)[] Members) Members(
        Parameter parameter) => parameter.Match<(string, (string, object?)[])>(
        patch => ("patch", [("patch", patch.PatchKey)]),
        difference => ("difference", [("patch", difference.PatchKey), ("minus", difference.MinusPatchKey)]),
        spread => ("spread", [("of", spread.OfKey)]),
        curve => curve.Match<(string, (string, object?)[])>(
            gradient => ("gradient", [("base", gradient.BasePatchKey), ("from", gradient.From), ("to", gradient.To)]),
            slope => ("slope", [("fromPatch", slope.FromPatchKey), ("toPatch", slope.ToPatchKey)]),
            speed => ("speedPoint", [("base", speed.BasePatchKey), ("above", speed.At.Density)])));

    private static void Write(Utf8JsonWriter json, string name, object? value)
    {
        switch (value)
        {
            case string text:
                json.WriteString(name, text);
                break;
            case double number:
                json.WriteNumber(name, number);
                break;
            case CurvePoint point:
                var (way, at) = point.Match(p => ("logH", p.LogH), p => ("above", p.Density), p => ("beyond", p.DeltaLogH));
                json.WriteStartObject(name);
                json.WriteNumber(way, at);
                json.WriteEndObject();
                break;
        }
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
}
