using System.Text.Json;

namespace Acquire.Formats.ProcessSheets;

/// <summary>Reads one parameter of a process sheet.</summary>
internal static class ParameterReader
{
    private static readonly (string Kind, Func<JsonSpot, SpotProblems, Parameter?> Read)[] Kinds =
    [
        ("patch", ReadPatch),
        ("difference", ReadDifference),
        ("spread", ReadSpread),
        ("gradient", CurveParameterReader.ReadGradient),
        ("slope", CurveParameterReader.ReadSlope),
        ("speedPoint", CurveParameterReader.ReadSpeedPoint),
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
            spot.Member(
                "kind")!,
                $"'{kind}' is no kind of parameter; expected {string.Join(", ", Kinds[..^1].Select(k => k.Kind))} or {Kinds[^1].Kind}.");
        return null;
    }

    public static (string? Key, string? Name, string? StandsFor) ReadNames(JsonSpot spot, SpotProblems problems) =>
        (problems.Text(spot, "key"), problems.Text(spot, "name"), problems.Text(spot, "standsFor"));

    public static ImmutableArray<Channel> ReadChannels(JsonSpot spot, SpotProblems problems)
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
}
