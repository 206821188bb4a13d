namespace Acquire.Rendering.Processes;

/// <summary>The limits of a parameter in one cell; where channels differ, channel by channel.</summary>
internal static class LimitText
{
    public static string Of(Parameter parameter, Func<ParameterLimits, Limit?> which)
    {
        var common = Word(which(parameter.Limits));
        return parameter.ChannelLimits.IsEmpty
            ? common
            : string.Join(", ", ChannelsOf(parameter).Select(c => $"{c.Letter()} {Word(which(parameter.LimitsIn(c)))}"));
    }

    private static string Word(Limit? limit) => limit?.ToString() ?? "none";

    private static ImmutableArray<Channel> ChannelsOf(Parameter parameter) => parameter switch
    {
        PatchParameter patch => patch.Channels,
        DifferenceParameter difference => difference.Channels,
        CurveParameter curve => curve.Channels,
        _ => [],
    };
}
