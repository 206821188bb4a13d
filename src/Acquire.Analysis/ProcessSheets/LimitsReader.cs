using Acquire.Domain.Processes;

namespace Acquire.Analysis.ProcessSheets;

/// <summary>Reads the limits of a parameter. Its <c>source</c> stands for both limits, unless a limit names its own.</summary>
internal static class LimitsReader
{
    public static ParameterLimits? Read(JsonSpot parameter, SpotProblems problems)
    {
        var source = problems.OptionalText(parameter, "source");
        var action = ReadLimit(parameter.Member("action"), source, problems);
        var control = ReadLimit(parameter.Member("control"), source, problems);
        return problems.Make(parameter, () => new ParameterLimits(action, control));
    }

    private static Limit? ReadLimit(JsonSpot? spot, string? source, SpotProblems problems)
    {
        if (spot is null || !problems.IsObject(spot, "lower", "upper", "source"))
        {
            return null;
        }

        var (lower, upper) = (problems.OptionalNumber(spot, "lower"), problems.OptionalNumber(spot, "upper"));
        var from = problems.OptionalText(spot, "source") ?? source;
        if (from is null)
        {
            problems.Add(spot, "a limit needs a 'source', here or at its parameter; expected a text that says where the numbers come from.");
        }

        return problems.Make(spot, () => new Limit(lower, upper, from!));
    }
}
