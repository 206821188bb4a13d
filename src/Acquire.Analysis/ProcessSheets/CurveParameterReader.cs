namespace Acquire.Analysis.ProcessSheets;

/// <summary>Reads the parameters that are taken of the curve of density over log exposure.</summary>
internal static class CurveParameterReader
{
    public static GradientParameter? ReadGradient(JsonSpot spot, SpotProblems problems)
    {
        _ = problems.IsObject(
            spot, "key", "name", "standsFor", "kind", "base", "from", "to", "channels", "action", "control", "source", "limits");
        var (key, name, standsFor) = ParameterReader.ReadNames(spot, problems);
        var basePatch = problems.OptionalText(spot, "base");
        var from = ReadPoint(spot, "from", problems, "logH", "above");
        var to = ReadPoint(spot, "to", problems, "logH", "above", "beyond");
        var channels = ParameterReader.ReadChannels(spot, problems);
        var limits = LimitsReader.Read(spot, problems);
        var own = LimitsReader.ReadChannels(spot, problems);
        return problems.Make(
            spot, () => new GradientParameter(key!, name!, standsFor!, from!, to!, basePatch, channels, limits!) { ChannelLimits = own });
    }

    public static SlopeParameter? ReadSlope(JsonSpot spot, SpotProblems problems)
    {
        _ = problems.IsObject(
            spot, "key", "name", "standsFor", "kind", "fromPatch", "toPatch", "channels", "action", "control", "source", "limits");
        var (key, name, standsFor) = ParameterReader.ReadNames(spot, problems);
        var (from, to) = (problems.Text(spot, "fromPatch"), problems.Text(spot, "toPatch"));
        var channels = ParameterReader.ReadChannels(spot, problems);
        var limits = LimitsReader.Read(spot, problems);
        var own = LimitsReader.ReadChannels(spot, problems);
        return problems.Make(
            spot, () => new SlopeParameter(key!, name!, standsFor!, from!, to!, channels, limits!) { ChannelLimits = own });
    }

    public static SpeedPointParameter? ReadSpeedPoint(JsonSpot spot, SpotProblems problems)
    {
        _ = problems.IsObject(
            spot, "key", "name", "standsFor", "kind", "base", "above", "channels", "action", "control", "source", "limits");
        var (key, name, standsFor) = ParameterReader.ReadNames(spot, problems);
        var (basePatch, above) = (problems.Text(spot, "base"), problems.Number(spot, "above"));
        var channels = ParameterReader.ReadChannels(spot, problems);
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
