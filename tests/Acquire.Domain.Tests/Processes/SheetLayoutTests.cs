using static Acquire.Domain.Tests.Assertions;

namespace Acquire.Domain.Tests.Processes;

public class SheetLayoutTests
{
    private static readonly ParameterLimits None = ParameterLimits.None;

    private static readonly SheetLayout Wedge = new("wedge", "Wedge", [Step("dmin", null), Step("a", 0), Step("b", 0.15, PatchRole.Curve)]);

    private static readonly SpeedPointParameter Speed = new("v", "Speed point", "speed", new AboveBase(0.1), "dmin", Some.Red, None);

    [Fact]
    public void Layout_of_a_hundred_patches_stands_and_of_one_more_does_not()
    {
        Assert.Equal(100, Many(100).Patches.Length);
        Refused("has 1 to 100 patches; 'many' has 101", () => Many(101));
    }

    [Fact]
    public void Impossible_layout_is_refused()
    {
        Refused("The key of a strip layout", () => new SheetLayout(" ", "L", [Step("a", 0)]));
        Refused("has no blanks; 'a b' has", () => new SheetLayout("a b", "L", [Step("a", 0)]));
        Refused("must not be empty", () => new SheetLayout("a", "L", []));
        Refused("must not be empty", () => new SheetLayout("a", "L", default));
        Refused("the log exposure '0.15' is named twice", () => new SheetLayout("a", "L", [Step("a", 0.15), Step("b", 0.15)]));
        Refused("must be a finite number", () => Step("a", double.NaN));
    }

    [Fact]
    public void Layouts_are_found_by_key_or_name_and_the_first_is_usual()
    {
        var sheet = Sheet([SheetLayout.Of(Some.Layout), Wedge], Some.Ld, Speed);

        Assert.Equal(Some.Layout.Patches, sheet.Layout.Patches);
        Assert.Same(Wedge, sheet.GetLayout("WEDGE"));
        Assert.Same(Wedge, sheet.LayoutOf(Wedge.Strip));
        Assert.Null(sheet.LayoutOf(new StripLayout("elsewhere", Some.Layout.Patches)));
        Refused("has no strip layout 'x'; it has usual, wedge.", () => sheet.GetLayout("x"));
        Refused("named twice", () => Sheet([Wedge, Wedge], Speed));
    }

    [Fact]
    public void Parameter_is_on_the_layouts_that_have_its_patches()
    {
        var spread = new SpreadParameter("s", "S", "", "ld", None);
        var sheet = Sheet([SheetLayout.Of(Some.Layout), Wedge], Some.Ld, spread, Speed);

        Assert.Equal([Some.Ld, spread], sheet.ParametersOn(sheet.Layouts[0]));
        Assert.Equal([Speed], sheet.ParametersOn(Wedge));
    }

    [Fact]
    public void Parameter_that_no_layout_can_carry_is_refused()
    {
        Refused("two patches with a log exposure (logH) at least, and dmin", () => Sheet([SheetLayout.Of(Some.Layout)], Speed));
        Refused("needs the patch 'ld', which no strip layout of 'house' has", () => Sheet([Wedge, Many(2)], Some.Ld));
        Refused("needs a strip layout that has m1 and a together", () => Sheet(
            [Wedge, Many(2)], new DifferenceParameter("d", "D", "", "m1", "a", Some.Red, None)));
        Refused(
            "only draws the curve in the strip layout 'Wedge'",
            () => Sheet([Wedge], new PatchParameter("b", "B", "", "b", Some.Red, None)));
    }

    [Fact]
    public void Limits_of_one_channel_take_the_place_of_the_common_ones()
    {
        var own = new ParameterLimits(new Limit(null, 0.1, "house"), null);
        var limits = ImmutableDictionary.CreateRange([KeyValuePair.Create(Channel.Red, own), KeyValuePair.Create(Channel.Blue, None)]);
        var parameter = Some.Ld with { ChannelLimits = limits };

        Assert.Equal(own, parameter.LimitsIn(Channel.Red));
        Assert.True(parameter.LimitsIn(Channel.Blue).AreEmpty);
        Assert.Equal(Some.Ld.Limits, parameter.LimitsIn(Channel.Green));
        Assert.Equal(Some.Ld.Limits, parameter.LimitsIn(null));
        var stray = parameter with { ChannelLimits = limits.Add(Channel.Visual, own) };
        Refused("limits for visual, in which it is not charted", () => Sheet([SheetLayout.Of(Some.Layout)], stray));
    }

    [Fact]
    public void Impossible_curve_parameter_is_refused()
    {
        Refused("more than 0", () => new AboveBase(0));
        Refused("lies beyond the first", () => new BeyondFirst(0));
        Refused("needs a base patch", () => new GradientParameter("g", "G", "", new AtLogH(0), new AboveBase(1), null, Some.Red, None));
        Refused(
            "needs two different points", () => new GradientParameter("g", "G", "", new AtLogH(1), new AtLogH(1), null, Some.Red, None));
        Refused("The first point of G", () => new GradientParameter("g", "G", "", new BeyondFirst(1), new AtLogH(1), null, Some.Red, None));
        Refused("needs two different patches", () => new SlopeParameter("s", "S", "", "a", "A", Some.Red, None));
        Refused("The base patch", () => new SpeedPointParameter("v", "V", "", new AboveBase(0.1), "", Some.Red, None));
        Refused("The channels of V", () => new SpeedPointParameter("v", "V", "", new AboveBase(0.1), "a", [], None));
    }

    private static LayoutPatch Step(string key, double? logH, PatchRole role = PatchRole.Judged) => new(new Patch(key, key), logH, role);

    private static SheetLayout Many(int count) => new("many", "many", [.. Enumerable.Range(1, count).Select(n => Step($"m{n}", null))]);

    private static ProcessSheet Sheet(ImmutableArray<SheetLayout> layouts, params Parameter[] parameters) =>
        new("house", "House", DensityStatus.M, layouts, [.. parameters]);
}
