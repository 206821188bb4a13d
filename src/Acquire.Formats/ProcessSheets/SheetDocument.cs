using System.Text.Json;

namespace Acquire.Formats.ProcessSheets;

/// <summary>
/// A process sheet as JSON, in the snapshot of the database and in JSON Lines. <c>layout</c> is the usual strip layout; <c>layouts</c>
/// is there when there are several or when more is known of one than its patches.
/// </summary>
internal sealed record SheetDocument(
    string Key,
    string Name,
    string Status,
    LayoutDocument Layout,
    ImmutableArray<ParameterDocument> Parameters,
    string? Note,
    string? Geometry = null,
    ImmutableArray<SheetLayoutDocument>? Layouts = null)
{
    public static SheetDocument Of(ProcessSheet sheet) => new(
        sheet.Key,
        sheet.Name,
        Words<DensityStatus>.Of(sheet.Status),
        LayoutDocument.Of(sheet.Layout),
        [.. sheet.Parameters.Select(ParameterDocument.Of)],
        sheet.Note,
        sheet.Geometry is DensityGeometry.Transmission ? null : Words<DensityGeometry>.Of(sheet.Geometry),
        IsPlain(sheet) ? null : [.. sheet.Layouts.Select(SheetLayoutDocument.Of)]);

    public ProcessSheet ToSheet() => new(
        Key,
        Name,
        Words<DensityStatus>.Parse(Status),
        Layouts is { } layouts ? [.. layouts.Select(l => l.ToLayout())] : [SheetLayout.Of(Layout.ToLayout())],
        [.. Parameters.Select(p => p.ToParameter())],
        Note)
    {
        Geometry = Geometry is { } word ? Words<DensityGeometry>.Parse(word) : DensityGeometry.Transmission,
    };

    // A sheet that says no more than patches is written as before there were several layouts: equal sheets, equal text.
    private static bool IsPlain(ProcessSheet sheet) =>
        sheet.Layouts is [{ Key: SheetLayout.UsualKey, Scale: ExposureScale.Relative, Note: null } only]
        && only.Patches.All(p => p is { LogH: null, Role: PatchRole.Judged });
}

/// <summary>A process sheet as it is kept with the strips that were judged by it.</summary>
public static class SheetSnapshot
{
    /// <summary>The sheet in one line, the same for equal sheets.</summary>
    public static string Write(ProcessSheet sheet) => JsonSerializer.Serialize(SheetDocument.Of(sheet), StoreJson.Options);

    public static ProcessSheet Read(string text) =>
        JsonSerializer.Deserialize<SheetDocument>(text, StoreJson.Options)?.ToSheet()
            ?? throw new FormatException("null is no process sheet");
}

/// <summary>A strip layout as JSON.</summary>
internal sealed record LayoutDocument(string Name, ImmutableArray<PatchDocument> Patches)
{
    public static LayoutDocument Of(StripLayout layout) =>
        new(layout.Name, [.. layout.Patches.Select(p => new PatchDocument(p.Key, p.Name))]);

    public StripLayout ToLayout() => new(Name, [.. Patches.Select(p => new Patch(p.Key, p.Name))]);
}

/// <summary>A strip layout of a process sheet as JSON, with what the sheet knows of its exposures.</summary>
internal sealed record SheetLayoutDocument(string Key, string Name, string Exposure, string? Note, ImmutableArray<PatchDocument> Patches)
{
    public static SheetLayoutDocument Of(SheetLayout layout) => new(
        layout.Key,
        layout.Strip.Name,
        Words<ExposureScale>.Of(layout.Scale),
        layout.Note,
        [.. layout.Patches.Select(p => new PatchDocument(
            p.Patch.Key, p.Patch.Name, p.LogH, p.Role is PatchRole.Judged ? null : Words<PatchRole>.Of(p.Role)))]);

    public SheetLayout ToLayout() => new(
        Key,
        Name,
        [.. Patches.Select(p => new LayoutPatch(
            new Patch(p.Key, p.Name), p.LogH, p.Role is { } role ? Words<PatchRole>.Parse(role) : PatchRole.Judged))],
        Words<ExposureScale>.Parse(Exposure),
        Note);
}

internal sealed record PatchDocument(string Key, string Name, double? LogH = null, string? Role = null);

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
