using System.Text.Json;

namespace Acquire.Formats.ProcessSheets;

/// <summary>Writes limits; where a parameter has none, their places stand there as null, for the user to fill in.</summary>
internal static class LimitsWriter
{
    public static void Write(Utf8JsonWriter json, Parameter parameter)
    {
        if (parameter.HasLimits)
        {
            Write(json, parameter.Limits);
        }
        else
        {
            WriteBlanks(json);
        }

        if (parameter.ChannelLimits.IsEmpty)
        {
            return;
        }

        json.WriteStartObject("limits");
        foreach (var (channel, limits) in parameter.ChannelLimits.OrderBy(l => l.Key))
        {
            json.WriteStartObject(channel.Word());
            Write(json, limits);
            json.WriteEndObject();
        }

        json.WriteEndObject();
    }

    private static void Write(Utf8JsonWriter json, ParameterLimits limits)
    {
        var source = limits.Action?.Source ?? limits.Control?.Source;
        WriteLimit(json, "action", limits.Action, source);
        WriteLimit(json, "control", limits.Control, source);
        json.WriteOptional("source", source);
    }

    private static void WriteBlanks(Utf8JsonWriter json)
    {
        foreach (var limit in new[] { "action", "control" })
        {
            json.WriteStartObject(limit);
            json.WriteNull("lower");
            json.WriteNull("upper");
            json.WriteEndObject();
        }

        json.WriteNull("source");
    }

    private static void WriteLimit(Utf8JsonWriter json, string name, Limit? limit, string? commonSource)
    {
        if (limit is null)
        {
            return;
        }

        json.WriteStartObject(name);
        json.WriteOptional("lower", limit.Lower);
        json.WriteOptional("upper", limit.Upper);
        json.WriteOptional("source", limit.Source == commonSource ? null : limit.Source);
        json.WriteEndObject();
    }
}
