using System.Text.Json;

namespace Acquire.Analysis.ProcessSheets;

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
