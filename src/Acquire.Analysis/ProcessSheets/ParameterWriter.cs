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
            case CurveParameter curve:
                WriteCurve(json, curve);
                WriteChannels(json, curve.Channels);
                break;
            default:
                throw new NotSupportedException($"Parameter '{parameter.Key}' is of a kind that cannot be written.");
        }

        LimitsWriter.Write(json, parameter);
        json.WriteEndObject();
    }

    private static void WriteCurve(Utf8JsonWriter json, CurveParameter curve)
    {
        switch (curve)
        {
            case GradientParameter gradient:
                json.WriteString("kind", "gradient");
                json.WriteOptional("base", gradient.BasePatchKey);
                WritePoint(json, "from", gradient.From);
                WritePoint(json, "to", gradient.To);
                break;
            case SlopeParameter slope:
                json.WriteString("kind", "slope");
                json.WriteString("fromPatch", slope.FromPatchKey);
                json.WriteString("toPatch", slope.ToPatchKey);
                break;
            case SpeedPointParameter speed:
                json.WriteString("kind", "speedPoint");
                json.WriteOptional("base", speed.BasePatchKey);
                json.WriteNumber("above", speed.At.Density);
                break;
            default:
                throw new NotSupportedException($"Parameter '{curve.Key}' is of a kind that cannot be written.");
        }
    }

    private static void WritePoint(Utf8JsonWriter json, string name, CurvePoint point)
    {
        var (way, number) = point switch
        {
            AtLogH at => ("logH", at.LogH),
            AboveBase above => ("above", above.Density),
            BeyondFirst beyond => ("beyond", beyond.DeltaLogH),
            _ => throw new NotSupportedException("A point of a curve is of a kind that cannot be written."),
        };
        json.WriteStartObject(name);
        json.WriteNumber(way, number);
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
}
