namespace Acquire.Formats.Tests.ProcessSheets;

/// <summary>Any process sheets, with every kind of parameter, layout and limit; and a way to compare two.</summary>
internal static class Sheets
{
    private static readonly Gen<string> Text =
        Gen.OneOf(Gen.Const("the sheet"), Gen.Const("the house \"rule\""), Gen.Const("Ω − é"), Gen.Const("a\tb\nc"));

    private static readonly Gen<double> Number = Gen.Int[-3000, 3000].Select(n => n / 1000.0);

    private static readonly Gen<Limit> Limit = Gen.Select(
        Gen.Int[0, 100], Gen.Int[0, 100], Gen.Int[0, 2], Text, (low, high, sides, source) =>
            new Limit(sides == 1 ? null : -low / 1000.0, sides == 2 ? null : high / 1000.0, source));

    private static readonly Gen<ParameterLimits> Limits = Gen
        .Select(Limit.Null(), Gen.Bool, Text, (action, hasControl, source) => new ParameterLimits(
        action,
        hasControl ? new Limit(action is { Lower: null } ? null : -0.2, action is { Upper: null } ? null : 0.2, source) : null));

    private static readonly Gen<ImmutableDictionary<Channel, ParameterLimits>> ChannelLimits = Gen.Select(
        Gen.Enum<Channel>().HashSet[0, 4],
        Limits.Array[4], (channels, limits) => channels.ToImmutableDictionary(c => c, c => limits[(int)c]));

    private static readonly Gen<CurvePoint> First = Gen.OneOf(
        Number.Select(n => (CurvePoint)new AtLogH(n)), Gen.Int[1, 900].Select(n => (CurvePoint)new AboveBase(n / 1000.0)));

    private static readonly Gen<CurvePoint> Second = Gen.OneOf(
        Number.Select(n => (CurvePoint)new AtLogH(n + 10)),
        Gen.Int[901, 1900].Select(n => (CurvePoint)new AboveBase(n / 1000.0)),
        Gen.Int[1, 900].Select(n => (CurvePoint)new BeyondFirst(n / 100.0)));

    private static readonly Gen<SheetLayout> Layout = Gen.Select(
        Gen.Int[0, 98], Gen.Enum<ExposureScale>(), Text.Null(), Number, Gen.Bool, (more, scale, note, start, isNamed) => new SheetLayout(
            isNamed ? "wedge" : SheetLayout.UsualKey,
            "a wedge",
            [
                new LayoutPatch(new Patch("p", "P \"1\""), start),
                new LayoutPatch(new Patch("q", "Q"), start + 0.1),
                .. Enumerable.Range(2, more).Select(i => new LayoutPatch(
                    new Patch($"s{i}", $"S {i}"), i % 3 == 0 ? null : start + (i / 10.0), PatchRole.Curve)),
            ],
            scale,
            note));

    /// <summary>Any sheet.</summary>
    public static Gen<ProcessSheet> Any { get; } = Gen.Select(
        Gen.Select(Gen.Enum<DensityStatus>(), Gen.Enum<DensityGeometry>(), Layout, Gen.Bool),
        Gen.Select(Limits.Array[6], ChannelLimits.Array[5]),
        Gen.Select(First, Second, Text.Null()),
        (head, limits, tail) =>
        {
            var all = Channels.All;
            SheetLayout second = new("five", "one more", [new LayoutPatch(new Patch("p", "P")), new LayoutPatch(new Patch("z", "Z"))]);
            return new ProcessSheet(
                "k", "K", head.Item1, head.Item4 ? [head.Item3, second] : [head.Item3],
                [
                    new PatchParameter("a", "A", "", "p", all, limits.Item1[0]) { ChannelLimits = limits.Item2[0] },
                    new DifferenceParameter("b", "B", "x", "q", "p", all, limits.Item1[1]) { ChannelLimits = limits.Item2[1] },
                    new SpreadParameter("c", "C", "x", "e", limits.Item1[2]),
                    new GradientParameter(
                        "d", "D", "x", tail.Item1, tail.Item2, "p", all, limits.Item1[3]) { ChannelLimits = limits.Item2[2] },
                    new SlopeParameter("e", "E", "x", "p", "q", all, limits.Item1[4]) { ChannelLimits = limits.Item2[3] },
                    new SpeedPointParameter(
                        "f", "F", "x", new AboveBase(0.1), "p", all, limits.Item1[5]) { ChannelLimits = limits.Item2[4] },
                ],
                tail.Item3)
            {
                Geometry = head.Item2,
            };
        });

    public static void AssertSame(ProcessSheet expected, ProcessSheet actual)
    {
        Assert.Equal(
            (expected.Key, expected.Name, expected.Status, expected.Geometry, expected.Note),
            (actual.Key, actual.Name, actual.Status, actual.Geometry, actual.Note));
        Assert.Equal(
            expected.Layouts.Select(l => (l.Key, l.Strip.Name, l.Scale, l.Note)),
            actual.Layouts.Select(l => (l.Key, l.Strip.Name, l.Scale, l.Note)));
        Assert.Equal(expected.Layouts.SelectMany(l => l.Patches), actual.Layouts.SelectMany(l => l.Patches));
        Assert.Equal(expected.Parameters.Select(Facts), actual.Parameters.Select(Facts));
    }

    // Immutable collections compare by reference, so the facts are laid out flat.
    private static (string, string, string, ParameterLimits, string, string) Facts(Parameter parameter) => (
        parameter.Key,
        parameter.Name,
        parameter.StandsFor,
        parameter.Limits,
        string.Join("; ", parameter.ChannelLimits.OrderBy(l => l.Key).Select(
            l => $"{l.Key} {l.Value.Action?.Source} {l.Value.Action} {l.Value.Control?.Source} {l.Value.Control}")),
        parameter switch
        {
            PatchParameter p => $"{p.PatchKey} {string.Join(' ', p.Channels)}",
            DifferenceParameter d => $"{d.PatchKey} − {d.MinusPatchKey} {string.Join(' ', d.Channels)}",
            SpreadParameter s => $"of {s.OfKey}",
            GradientParameter g => $"{g.BasePatchKey} {g.From} {g.To} {string.Join(' ', g.Channels)}",
            SlopeParameter s => $"{s.FromPatchKey} to {s.ToPatchKey} {string.Join(' ', s.Channels)}",
            SpeedPointParameter s => $"{s.BasePatchKey} {s.At} {string.Join(' ', s.Channels)}",
            _ => throw new NotSupportedException(),
        });
}
