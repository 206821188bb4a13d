using System.Text.Json;

namespace Acquire.Formats.ProcessSheets;

/// <summary>
/// Reads the limits of a parameter. Its <c>source</c> stands for both limits, unless a limit names its own. What is null is still to be
/// filled in, and counts as absent.
/// </summary>
internal static class LimitsReader
{
    public static ParameterLimits? Read(JsonSpot spot, SpotProblems problems) => Read(spot, null, problems);

    /// <summary>The limits of single channels, under <c>limits</c>, by the channel's word.</summary>
    public static ImmutableDictionary<Channel, ParameterLimits> ReadChannels(JsonSpot parameter, SpotProblems problems)
    {
        var limits = ImmutableDictionary.CreateBuilder<Channel, ParameterLimits>();
        if (parameter.Member("limits") is not { } spot)
        {
            return limits.ToImmutable();
        }

        if (spot.Kind != JsonTokenType.StartObject)
        {
            problems.Add(spot, $"expected an object with limits by channel, red, green, blue or visual, found {spot.Word}.");
            return limits.ToImmutable();
        }

        var common = problems.NullableText(parameter, "source");
        foreach (var (name, member) in spot.Members)
        {
            if (!Channels.TryParse(name, out var channel))
            {
                problems.Add(member, $"'{name}' is no channel; expected red, green, blue or visual.");
            }
            else if (!problems.IsObject(member, "action", "control", "source"))
            {
                continue;
            }
            else if (Read(member, common, problems) is { } own && !limits.TryAdd(channel, own))
            {
                problems.Add(member, $"limits for {channel.Word()} are given twice.");
            }
        }

        return limits.ToImmutable();
    }

    private static ParameterLimits? Read(JsonSpot spot, string? commonSource, SpotProblems problems)
    {
        var source = problems.NullableText(spot, "source") ?? commonSource;
        var action = ReadLimit(spot.Member("action"), source, problems);
        var control = ReadLimit(spot.Member("control"), source, problems);
        return problems.Make(spot, () => new ParameterLimits(action, control));
    }

    private static Limit? ReadLimit(JsonSpot? spot, string? source, SpotProblems problems)
    {
        if (spot is null or { Kind: JsonTokenType.Null } || !problems.IsObject(spot, "lower", "upper", "source"))
        {
            return null;
        }

        var (lower, upper) = (problems.NullableNumber(spot, "lower"), problems.NullableNumber(spot, "upper"));
        var from = problems.NullableText(spot, "source") ?? source;
        // Named and null is still to be filled in; not named at all is a slip, and the domain refuses it below.
        if (lower is null && upper is null && spot.Members.Any(m => m.Name is "lower" or "upper"))
        {
            return null;
        }

        if (from is null)
        {
            problems.Add(
                spot, "a limit needs a 'source', here or at its parameter; expected a text that says where the numbers come from.");
        }

        return problems.Make(spot, () => new Limit(lower, upper, from!));
    }
}

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
