using System.Text.Json.Serialization;
using Acquire.Formats.Json;

namespace Acquire.Formats.ProcessSheets;

/// <summary>A parameter of a sheet; which members are there follows from <paramref name="Kind"/>.</summary>
internal sealed record ParameterDocument(
    string Key,
    string Name,
    string StandsFor,
    string Kind,
    string? Patch = null,
    string? Minus = null,
    [property: JsonPropertyName("of")] string? SpreadOf = null,
    string? Base = null,
    PointDocument? From = null,
    PointDocument? To = null,
    string? FromPatch = null,
    string? ToPatch = null,
    double? Above = null,
    ImmutableArray<string>? Channels = null,
    LimitDocument? Action = null,
    LimitDocument? Control = null,
    string? Source = null,
    OrderedDictionary<string, LimitsDocument>? Limits = null)
{
    public static ParameterDocument Of(Parameter parameter)
    {
        var limits = LimitsDocument.Of(parameter.Limits);
        var common = new ParameterDocument(
            parameter.Key,
            parameter.Name,
            parameter.StandsFor,
            parameter.Kind,
            Channels: parameter.Channels.IsEmpty ? null : [.. parameter.Channels.Select(c => c.Word())],
            Action: limits.Action,
            Control: limits.Control,
            Source: limits.Source,
            Limits: parameter.ChannelLimits.IsEmpty ? null : new(parameter.ChannelLimits.OrderBy(l => l.Key).Select(
                l => KeyValuePair.Create(l.Key.Word(), LimitsDocument.Of(l.Value)))));
        return parameter.Match(
            patch => common with { Patch = patch.PatchKey },
            difference => common with { Patch = difference.PatchKey, Minus = difference.MinusPatchKey },
            spread => common with { SpreadOf = spread.OfKey },
            curve => curve.Match(
                gradient => common with
                {
                    Base = gradient.BasePatchKey, From = PointDocument.Of(gradient.From), To = PointDocument.Of(gradient.To),
                },
                slope => common with { FromPatch = slope.FromPatchKey, ToPatch = slope.ToPatchKey },
                speed => common with { Base = speed.BasePatchKey, Above = speed.At.Density }));
    }

    /// <summary>The parameter; null when something of it cannot be, which the file then knows.</summary>
    public Parameter? ToParameter(JsonFile? file, string pointer)
    {
        var since = file?.Count;
        var limits = new LimitsDocument(Action, Control, Source).ToLimits(file, pointer, null);
        var own = (Limits ?? []).Select(l => (Word: l.Key, Limits: l.Value.ToLimits(file, $"{pointer}/limits/{l.Key}", Source))).ToList();
        var from = file.Make($"{pointer}/from", () => From?.ToPoint());
        var to = file.Make($"{pointer}/to", () => To?.ToPoint());
        return file.Make(
            pointer,
            since,
            () => Made(limits!, from, to) with { ChannelLimits = ByChannel(own.Select(l => (l.Word, l.Limits!))) });
    }

    private Parameter Made(ParameterLimits limits, CurvePoint? from, CurvePoint? to) => Kind switch
    {
        "patch" => new PatchParameter(Key, Name, StandsFor, Patch!, ToChannels(), limits),
        "difference" => new DifferenceParameter(Key, Name, StandsFor, Patch!, Minus!, ToChannels(), limits),
        "spread" => new SpreadParameter(Key, Name, StandsFor, SpreadOf!, limits),
        "gradient" => new GradientParameter(Key, Name, StandsFor, from!, to!, Base, ToChannels(), limits),
        "slope" => new SlopeParameter(Key, Name, StandsFor, FromPatch!, ToPatch!, ToChannels(), limits),
        // Earlier versions wrote it with an underscore.
        "speedPoint" or "speed_point" =>
            new SpeedPointParameter(Key, Name, StandsFor, new AboveBase(Above ?? 0), Base!, ToChannels(), limits),
        _ => throw new ImpossibleValueException($"'{Kind}' is no kind of parameter."),
    };

    private ImmutableArray<Channel> ToChannels() => [.. (Channels ?? []).Select(Domain.Densitometry.Channels.Parse)];

    private static ImmutableDictionary<Channel, ParameterLimits> ByChannel(IEnumerable<(string Word, ParameterLimits Limits)> own)
    {
        var limits = ImmutableDictionary.CreateBuilder<Channel, ParameterLimits>();
        foreach (var (word, one) in own)
        {
            var channel = Domain.Densitometry.Channels.Parse(word);
            if (!limits.TryAdd(channel, one))
            {
                throw new ImpossibleValueException($"Limits for {channel.Word()} are given twice.");
            }
        }

        return limits.ToImmutable();
    }
}

/// <summary>Limits with the source that both have where they do not name their own.</summary>
internal sealed record LimitsDocument(LimitDocument? Action = null, LimitDocument? Control = null, string? Source = null)
{
    public static LimitsDocument Of(ParameterLimits limits)
    {
        var source = limits.Action?.Source ?? limits.Control?.Source;
        return new LimitsDocument(LimitDocument.Of(limits.Action, source), LimitDocument.Of(limits.Control, source), source);
    }

    /// <param name="file">Is told what cannot be; then null comes out.</param>
    /// <param name="pointer">Where these limits stand.</param>
    /// <param name="common">The source where neither these limits nor one of them names any.</param>
    public ParameterLimits? ToLimits(JsonFile? file, string pointer, string? common)
    {
        var since = file?.Count;
        var action = file.Make($"{pointer}/action", () => Action?.ToLimit(Source ?? common));
        var control = file.Make($"{pointer}/control", () => Control?.ToLimit(Source ?? common));
        return file.Make(pointer, since, () => new ParameterLimits(action, control));
    }
}

/// <summary>A limit: deviations in the parameter's unit. One whose sides are both null is still to be filled in, so absent.</summary>
internal sealed record LimitDocument(double? Lower, double? Upper, string? Source)
{
    public static LimitDocument? Of(Limit? limit, string? common) =>
        limit is null ? null : new LimitDocument(limit.Lower, limit.Upper, limit.Source == common ? null : limit.Source);

    public Limit? ToLimit(string? common) => Lower is null && Upper is null
        ? null
        : new(Lower, Upper, Source ?? common ?? throw new ImpossibleValueException(
            "A limit needs a 'source', here or at its parameter; expected a text that says where the numbers come from."));
}

/// <summary>A place on the curve; one of the three is given.</summary>
internal sealed record PointDocument(double? LogH = null, double? Above = null, double? Beyond = null)
{
    public static PointDocument Of(CurvePoint point) =>
        point.Match<PointDocument>(at => new(LogH: at.LogH), above => new(Above: above.Density), beyond => new(Beyond: beyond.DeltaLogH));

    public CurvePoint ToPoint() => this switch
    {
        { LogH: { } logH } => new AtLogH(logH),
        { Above: { } above } => new AboveBase(above),
        _ => new BeyondFirst(Beyond ?? throw new ImpossibleValueException("A place on the curve has no number.")),
    };
}
