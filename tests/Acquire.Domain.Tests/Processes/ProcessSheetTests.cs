using static Acquire.Domain.Tests.Assertions;

namespace Acquire.Domain.Tests.Processes;

public class ProcessSheetTests
{
    private static readonly ParameterLimits None = ParameterLimits.None;

    private static ProcessSheet Sheet(params Parameter[] parameters) =>
        new("house", "House", DensityStatus.M, Some.Layout, [.. parameters]);

    private static SpreadParameter SpreadOf(string key) => new("spread", "Colour spread", "balance", key, None);

    [Fact]
    public void Channels_needed_are_those_of_all_parameters_in_the_usual_order() => Assert.Equal(
        [Channel.Green, Channel.Blue],
        Sheet(
            new PatchParameter("a", "A", "", "ld", [Channel.Blue], None),
            new DifferenceParameter("b", "B", "", "hd", "ld", [Channel.Blue, Channel.Green], None)).ChannelsNeeded);

    [Fact]
    public void Parameter_is_found_by_key_in_any_case()
    {
        Assert.Same(Some.Ld, Some.Sheet.Get("LD"));
        Assert.Null(Some.Sheet.Find("hd"));
        Refused("The process sheet 'house' has no parameter 'hd'; it has ld.", () => Some.Sheet.Get("hd"));
    }

    [Fact]
    public void Spread_refers_to_its_parameter_in_any_case() => Assert.Equal(2, Sheet(Some.Ld, SpreadOf("LD")).Parameters.Length);

    [Fact]
    public void Reference_to_what_is_not_there_is_refused()
    {
        Refused("has no patch 'yellow'", () => Sheet(new PatchParameter("a", "A", "", "yellow", Some.Red, None)));
        Refused("has no patch 'D-min'", () => Sheet(new PatchParameter("a", "A", "", "D-min", Some.Red, None)));
        Refused("has no patch 'dmax'", () => Sheet(new DifferenceParameter("a", "A", "", "dmax", "ld", Some.Red, None)));
        Refused("has no patch 'dmax'", () => Sheet(new DifferenceParameter("a", "A", "", "ld", "dmax", Some.Red, None)));
        Refused("has no parameter 'hd'; it has ld, spread.", () => Sheet(Some.Ld, SpreadOf("hd")));
    }

    [Fact]
    public void Spread_of_fewer_than_three_colours_is_refused()
    {
        Refused("in red, green and blue", () => Sheet(new PatchParameter("a", "A", "", "ld", Some.Red, None), SpreadOf("a")));
        Refused("in red, green and blue", () => Sheet(Some.Ld, SpreadOf("spread")));
    }

    [Fact]
    public void Impossible_sheet_is_refused()
    {
        Refused("The key of a process sheet", () => new ProcessSheet("", "House", DensityStatus.M, Some.Layout, [Some.Ld]));
        Refused("The name of a process", () => new ProcessSheet("house", "", DensityStatus.M, Some.Layout, [Some.Ld]));
        Refused("needs a strip layout", () => new ProcessSheet("house", "House", DensityStatus.M, null!, [Some.Ld]));
        Refused("The parameters of the process sheet", () => Sheet());
        Refused("The parameter 'ld' is named twice.", () => Sheet(Some.Ld, Some.Ld));
    }

    [Fact]
    public void Impossible_parameter_is_refused()
    {
        Refused("The key of a parameter", () => new PatchParameter("", "A", "", "ld", Some.Red, None));
        Refused("The name of a parameter", () => new PatchParameter("a", "", "", "ld", Some.Red, None));
        Refused("The patch of A", () => new PatchParameter("a", "A", "", "", Some.Red, None));
        Refused("The channels of A", () => new PatchParameter("a", "A", "", "ld", [], None));
        Refused("In A the channel 'red' is named twice.", () => new PatchParameter("a", "A", "", "ld", [Channel.Red, Channel.Red], None));
        Refused("two different patches", () => new DifferenceParameter("a", "A", "", "ld", "LD", Some.Red, None));
        Refused("that A is taken of", () => new SpreadParameter("a", "A", "", " ", None));
    }
}
