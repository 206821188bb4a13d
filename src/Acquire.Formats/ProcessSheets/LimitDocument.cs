namespace Acquire.Formats.ProcessSheets;

/// <summary>A limit as JSON: deviations in the parameter's unit.</summary>
internal sealed record LimitDocument(double? Lower, double? Upper, string Source)
{
    public static LimitDocument? Of(Limit? limit) => limit is null ? null : new LimitDocument(limit.Lower, limit.Upper, limit.Source);

    public Limit ToLimit() => new(Lower, Upper, Source);
}

/// <summary>The limits of one channel as JSON.</summary>
internal sealed record ChannelLimitsDocument(string Channel, LimitDocument? Action, LimitDocument? Control)
{
    public static ImmutableArray<ChannelLimitsDocument>? Of(ImmutableDictionary<Channel, ParameterLimits> limits) => limits.IsEmpty
        ? null
        : [.. limits.OrderBy(l => l.Key).Select(l => new ChannelLimitsDocument(
            Words<Channel>.Of(l.Key), LimitDocument.Of(l.Value.Action), LimitDocument.Of(l.Value.Control)))];

    public static ImmutableDictionary<Channel, ParameterLimits> ToLimits(ImmutableArray<ChannelLimitsDocument>? documents) =>
        (documents ?? []).ToImmutableDictionary(
            d => Words<Channel>.Parse(d.Channel), d => new ParameterLimits(d.Action?.ToLimit(), d.Control?.ToLimit()));
}

/// <summary>A place on the curve as JSON; one of the three is given.</summary>
internal sealed record CurvePointDocument(double? LogH = null, double? Above = null, double? Beyond = null)
{
    public static CurvePointDocument Of(CurvePoint point) =>
        point.Match<CurvePointDocument>(
            at => new(LogH: at.LogH), above => new(Above: above.Density), beyond => new(Beyond: beyond.DeltaLogH));

    public CurvePoint ToPoint() => this switch
    {
        { LogH: { } logH } => new AtLogH(logH),
        { Above: { } above } => new AboveBase(above),
        { Beyond: { } beyond } => new BeyondFirst(beyond),
        _ => throw new FormatException("a place on the curve has no number"),
    };
}
