namespace Acquire.Formats.ProcessSheets;

/// <summary>
/// A parameter as JSON; its kind is <c>patch</c>, <c>difference</c>, <c>spread</c>, <c>gradient</c>, <c>slope</c> or <c>speed_point</c>.
/// </summary>
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
            parameter.Kind,
            Channels: parameter.Channels.IsEmpty ? null : [.. parameter.Channels.Select(Words<Channel>.Of)],
            Action: LimitDocument.Of(parameter.Limits.Action),
            Control: LimitDocument.Of(parameter.Limits.Control),
            ChannelLimits: ChannelLimitsDocument.Of(parameter.ChannelLimits));
        return parameter.Match(
            patch => common with { Patch = patch.PatchKey },
            difference => common with { Patch = difference.PatchKey, MinusPatch = difference.MinusPatchKey },
            spread => common with { SpreadOf = spread.OfKey },
            curve => curve.Match(
                gradient => common with
                {
                    BasePatch = gradient.BasePatchKey, From = CurvePointDocument.Of(gradient.From), To = CurvePointDocument.Of(gradient.To),
                },
                slope => common with { FromPatch = slope.FromPatchKey, ToPatch = slope.ToPatchKey },
                speed => common with { BasePatch = speed.BasePatchKey, Above = speed.At.Density }));
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

    private ImmutableArray<Channel> FromWords() => [.. (Channels ?? []).Select(Words<Channel>.Parse)];
}
