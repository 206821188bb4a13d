using Acquire.Formats.ProcessSheets;

namespace Acquire.Formats.Tests.ProcessSheets;

public class LayoutMarksTests
{
    private static readonly ProcessSheet Sheet = ShippedSheets.Get("ecn2");

    [Fact]
    public void Mark_moved_leaves_a_plain_step_behind()
    {
        var once = LayoutMarks.Mark(Sheet, "steps21", "ld", 6);
        var layout = LayoutMarks.Mark(once, "steps21", "LD", 7).GetLayout("steps21");

        Assert.Equal(("ld", 1.2, PatchRole.Judged), (layout.Patches[6].Patch.Key, layout.Patches[6].LogH!.Value, layout.Patches[6].Role));
        Assert.Equal(("step6", PatchRole.Curve), (layout.Patches[5].Patch.Key, layout.Patches[5].Role));
        Assert.Equal(21, layout.Patches.Length);
    }

    [Theory]
    [InlineData("steps21", "ld", 0, "places 1 to 21")]
    [InlineData("steps21", "ld", 22, "places 1 to 21")]
    [InlineData("steps21", "sky", 3, "expected one of dmin, ld, md, hd")]
    [InlineData("steps22", "ld", 3, "has no strip layout 'steps22'; it has usual, steps21")]
    [InlineData("steps21", "ld", 1, "so it cannot be ld too")]
    public void Mark_that_cannot_be_is_refused_with_what_can(string layout, string patch, int place, string says) =>
        Assert.Contains(
            says,
            Assert.Throws<ImpossibleValueException>(() => LayoutMarks.Mark(Sheet, layout, patch, place)).Message, StringComparison.Ordinal);
}
