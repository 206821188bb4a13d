namespace Acquire.Storage.Processes;

/// <summary>A parameter as JSON; its kind is <c>patch</c>, <c>difference</c>, <c>spread</c>, <c>gradient</c>, <c>slope</c> or <c>speed_point</c>.</summary>
internal sealed record ParameterDocument(
    string Key,
    string Name,
    string StandsFor,
    string Kind,
    string? Patch = null,
    string? MinusPatch = null,
    string? SpreadOf = null,
    ImmutableArray<string>? Channels = null,
    LimitDocument? Action = null,
    LimitDocument? Control = null,
    string? BasePatch = null,
    CurvePointDocument? From = null,
    CurvePointDocument? To = null,
    string? FromPatch = null,
    string? ToPatch = null,
    double? Above = null,
    ImmutableArray<ChannelLimitsDocument>? ChannelLimits = null)
{
    public static ParameterDocument Of(Parameter parameter)
    {
        var common = new ParameterDocument(
            parameter.Key,
            parameter.Name,
            parameter.StandsFor,
            "",
            Action: LimitDocument.Of(parameter.Limits.Action),
            Control: LimitDocument.Of(parameter.Limits.Control),
            ChannelLimits: ChannelLimitsDocument.Of(parameter.ChannelLimits));
        return parameter switch
        {
            PatchParameter p => common with { Kind = "patch", Patch = p.PatchKey, Channels = ToWords(p.Channels) },
            DifferenceParameter d => common with
            {
                Kind = "difference", Patch = d.PatchKey, MinusPatch = d.MinusPatchKey, Channels = ToWords(d.Channels),
            },
            SpreadParameter s => common with { Kind = "spread", SpreadOf = s.OfKey },
            CurveParameter c => Of(c, common with { BasePatch = c.BasePatchKey, Channels = ToWords(c.Channels) }),
            _ => throw NoForm(parameter),
        };
    }

    public Parameter ToParameter()
    {
        var limits = new ParameterLimits(Action?.ToLimit(), Control?.ToLimit());
        Parameter parameter = Kind switch
        {
            "patch" => new PatchParameter(Key, Name, StandsFor, Patch ?? "", FromWords(), limits),
            "difference" => new DifferenceParameter(Key, Name, StandsFor, Patch ?? "", MinusPatch ?? "", FromWords(), limits),
            "spread" => new SpreadParameter(Key, Name, StandsFor, SpreadOf ?? "", limits),
            "gradient" => new GradientParameter(Key, Name, StandsFor, From?.ToPoint()!, To?.ToPoint()!, BasePatch, FromWords(), limits),
            "slope" => new SlopeParameter(Key, Name, StandsFor, FromPatch ?? "", ToPatch ?? "", FromWords(), limits),
            "speed_point" => new SpeedPointParameter(Key, Name, StandsFor, new AboveBase(Above ?? 0), BasePatch ?? "", FromWords(), limits),
            _ => throw new FormatException($"'{Kind}' is no kind of parameter"),
        };
        return parameter with { ChannelLimits = ChannelLimitsDocument.ToLimits(ChannelLimits) };
    }

    private static ParameterDocument Of(CurveParameter curve, ParameterDocument common) => curve switch
    {
        GradientParameter g => common with { Kind = "gradient", From = CurvePointDocument.Of(g.From), To = CurvePointDocument.Of(g.To) },
        SlopeParameter s => common with { Kind = "slope", FromPatch = s.FromPatchKey, ToPatch = s.ToPatchKey },
        SpeedPointParameter p => common with { Kind = "speed_point", Above = p.At.Density },
        _ => throw NoForm(curve),
    };

    private static ArgumentException NoForm(Parameter parameter) =>
        new($"A parameter of type {parameter.GetType().Name} has no form in files.", nameof(parameter));

    private static ImmutableArray<string> ToWords(ImmutableArray<Channel> channels) => [.. channels.Select(Words<Channel>.Of)];

    private ImmutableArray<Channel> FromWords() => [.. (Channels ?? []).Select(Words<Channel>.Parse)];
}
