using System.Text.Json;

namespace Acquire.Formats.ProcessSheets;

/// <summary>Reads one parameter of a process sheet.</summary>
internal static class ParameterReader
{
    // Each reads all its members before it makes anything, so that every problem of a parameter is told at once.
    private static readonly (string Kind, Func<JsonSpot, SpotProblems, Parameter?> Read)[] Kinds =
    [
        ("patch", ReadPatch),
        ("difference", ReadDifference),
        ("spread", ReadSpread),
        ("gradient", ReadGradient),
        ("slope", ReadSlope),
        ("speedPoint", ReadSpeedPoint),
    ];

    public static Parameter? Read(JsonSpot spot, SpotProblems problems)
    {
        if (spot.Kind != JsonTokenType.StartObject)
        {
            problems.Add(spot, $"expected a parameter, an object with key, name, standsFor, kind and more, found {spot.Word}.");
            return null;
        }

        if (problems.Text(spot, "kind") is not { } kind)
        {
            return null;
        }

        if (Kinds.FirstOrDefault(k => k.Kind == kind).Read is { } read)
        {
            return read(spot, problems);
        }

        problems.Add(
            spot.Member("kind")!,
            $"'{kind}' is no kind of parameter; expected {string.Join(", ", Kinds[..^1].Select(k => k.Kind))} or {Kinds[^1].Kind}.");
        return null;
    }

    private static (string? Key, string? Name, string? StandsFor) ReadNames(JsonSpot spot, SpotProblems problems) =>
        (problems.Text(spot, "key"), problems.Text(spot, "name"), problems.Text(spot, "standsFor"));

    private static ImmutableArray<Channel> ReadChannels(JsonSpot spot, SpotProblems problems)
    {
        var channels = ImmutableArray.CreateBuilder<Channel>();
        foreach (var item in problems.Items(spot, "channels"))
        {
            if (Channels.TryParse(item.Value as string, out var channel))
            {
                channels.Add(channel);
            }
            else
            {
                problems.Add(item, $"expected a channel, red, green, blue or visual, found {item.Word}.");
            }
        }

        return channels.ToImmutable();
    }

    private static PatchParameter? ReadPatch(JsonSpot spot, SpotProblems problems)
    {
        _ = problems.IsObject(spot, "key", "name", "standsFor", "kind", "patch", "channels", "action", "control", "source", "limits");
        var (key, name, standsFor) = ReadNames(spot, problems);
        var patch = problems.Text(spot, "patch");
        var channels = ReadChannels(spot, problems);
        var limits = LimitsReader.Read(spot, problems);
        var own = LimitsReader.ReadChannels(spot, problems);
        return problems.Make(spot, () => new PatchParameter(key!, name!, standsFor!, patch!, channels, limits!) { ChannelLimits = own });
    }

    private static DifferenceParameter? ReadDifference(JsonSpot spot, SpotProblems problems)
    {
        _ = problems.IsObject(
            spot, "key", "name", "standsFor", "kind", "patch", "minus", "channels", "action", "control", "source", "limits");
        var (key, name, standsFor) = ReadNames(spot, problems);
        var (patch, minus) = (problems.Text(spot, "patch"), problems.Text(spot, "minus"));
        var channels = ReadChannels(spot, problems);
        var limits = LimitsReader.Read(spot, problems);
        var own = LimitsReader.ReadChannels(spot, problems);
        return problems.Make(
            spot, () => new DifferenceParameter(key!, name!, standsFor!, patch!, minus!, channels, limits!) { ChannelLimits = own });
    }

    private static SpreadParameter? ReadSpread(JsonSpot spot, SpotProblems problems)
    {
        _ = problems.IsObject(spot, "key", "name", "standsFor", "kind", "of", "action", "control", "source");
        var (key, name, standsFor) = ReadNames(spot, problems);
        var of = problems.Text(spot, "of");
        var limits = LimitsReader.Read(spot, problems);
        return problems.Make(spot, () => new SpreadParameter(key!, name!, standsFor!, of!, limits!));
    }

    private static GradientParameter? ReadGradient(JsonSpot spot, SpotProblems problems)
    {
        _ = problems.IsObject(
            spot, "key", "name", "standsFor", "kind", "base", "from", "to", "channels", "action", "control", "source", "limits");
        var (key, name, standsFor) = ReadNames(spot, problems);
        var basePatch = problems.OptionalText(spot, "base");
        var from = ReadPoint(spot, "from", problems, "logH", "above");
        var to = ReadPoint(spot, "to", problems, "logH", "above", "beyond");
        var channels = ReadChannels(spot, problems);
        var limits = LimitsReader.Read(spot, problems);
        var own = LimitsReader.ReadChannels(spot, problems);
        return problems.Make(
            spot, () => new GradientParameter(key!, name!, standsFor!, from!, to!, basePatch, channels, limits!) { ChannelLimits = own });
    }

    private static SlopeParameter? ReadSlope(JsonSpot spot, SpotProblems problems)
    {
        _ = problems.IsObject(
            spot, "key", "name", "standsFor", "kind", "fromPatch", "toPatch", "channels", "action", "control", "source", "limits");
        var (key, name, standsFor) = ReadNames(spot, problems);
        var (from, to) = (problems.Text(spot, "fromPatch"), problems.Text(spot, "toPatch"));
        var channels = ReadChannels(spot, problems);
        var limits = LimitsReader.Read(spot, problems);
        var own = LimitsReader.ReadChannels(spot, problems);
        return problems.Make(
            spot, () => new SlopeParameter(key!, name!, standsFor!, from!, to!, channels, limits!) { ChannelLimits = own });
    }

    private static SpeedPointParameter? ReadSpeedPoint(JsonSpot spot, SpotProblems problems)
    {
        _ = problems.IsObject(
            spot, "key", "name", "standsFor", "kind", "base", "above", "channels", "action", "control", "source", "limits");
        var (key, name, standsFor) = ReadNames(spot, problems);
        var (basePatch, above) = (problems.Text(spot, "base"), problems.Number(spot, "above"));
        var channels = ReadChannels(spot, problems);
        var limits = LimitsReader.Read(spot, problems);
        var own = LimitsReader.ReadChannels(spot, problems);
        return problems.Make(
            spot,
            () => new SpeedPointParameter(
                key!, name!, standsFor!, new AboveBase(above!.Value), basePatch!, channels, limits!) { ChannelLimits = own });
    }

    private static CurvePoint? ReadPoint(JsonSpot parameter, string name, SpotProblems problems, params ReadOnlySpan<string> ways)
    {
        var expected = string.Join(", ", ways[..^1]!) + " or " + ways[^1];
        if (parameter.Member(name) is not { } spot)
        {
            problems.Add(parameter, $"'{name}' is missing; expected an object with {expected}.");
            return null;
        }

        if (!problems.IsObject(spot, ways))
        {
            return null;
        }

        if (spot.Members.Length != 1)
        {
            problems.Add(spot, $"expected one of {expected}, found {spot.Members.Length}.");
            return null;
        }

        var way = spot.Members[0].Name;
        var number = problems.OptionalNumber(spot, way);
        return problems.Make(spot, () => MakePoint(way, number!.Value));
    }

    private static CurvePoint MakePoint(string way, double number) => way switch
    {
        "logH" => new AtLogH(number),
        "above" => new AboveBase(number),
        _ => new BeyondFirst(number),
    };
}

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

    /// <summary>The word of each kind in a file, and what it alone has: keys, numbers, places on the curve.</summary>
    private static (string, (string, object?)[]) Members(Parameter parameter) => parameter.Match<(string, (string, object?)[])>(
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
