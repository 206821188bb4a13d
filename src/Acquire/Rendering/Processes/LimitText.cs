namespace Acquire.Rendering.Processes;

/// <summary>The limits of a parameter in one cell; where channels differ, channel by channel.</summary>
internal static class LimitText
{
    public static string Of(Parameter parameter, Func<ParameterLimits, Limit?> which)
    {
        var common = Word(which(parameter.Limits));
        return parameter.ChannelLimits.IsEmpty
            ? common
            : string.Join(", ", parameter.Channels.Select(c => $"{c.Letter()} {Word(which(parameter.LimitsIn(c)))}"));
    }

    private static string Word(Limit? limit) => limit?.ToString() ?? "none";
}
