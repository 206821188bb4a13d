using Acquire.Analysis.Plausibility;
using Acquire.Analysis.Tests.Judgement;
using Acquire.Analysis.Tests.Statistics;

namespace Acquire.Analysis.Tests.Plausibility;

/// <summary>One value that goes with none of the others, each patch read once; <c>tools/TruthBenchmark</c> has the shares.</summary>
public class WrongValueTests
{
    private const int DMax = 3;
    private const int Red = 0;
    private const int Green = 1;
    private const int Blue = 2;

    [Theory]
    [InlineData(1, Green, 0.48, "was 0.84 meant")]
    [InlineData(4, Blue, 0.27, "was 2.72 meant")]
    [InlineData(3, Red, 1.12, "was 2.12 meant")]
    [InlineData(2, Red, -0.10, "about 1.2")]
    public void Mistyped_value_is_asked_about_with_the_value_meant(int slot, int channel, double typed, string meant)
    {
        var question = Strip.Knowledge.AtEnd(Typed(Strip.OnAim, slot, channel, typed))!;

        Assert.Equal(SuspicionKind.WrongValue, question.Kind);
        Assert.Equal([Some.C41.Layout.Patches[slot].Key], question.Patches);
        Assert.Contains(meant, question.Question, StringComparison.Ordinal);
    }

    /// <summary>An instrument does not exchange digits: there only what would fit is said.</summary>
    [Fact]
    public void Value_off_the_instrument_is_no_slip_of_typing()
    {
        var patches = Strip.Read(Strip.Moved((s, c) => (s, c) is (1, Green) ? -0.36 : 0), reads: 1);
        var question = Strip.Knowledge.AtEnd(patches)!;

        Assert.Equal(SuspicionKind.WrongValue, question.Kind);
        Assert.DoesNotContain("meant", question.Question, StringComparison.Ordinal);
        Assert.Contains("about 0.8", question.Question, StringComparison.Ordinal);
        Assert.Equal(["ld"], Assert.IsType<Remedy.ReadPatchAgain>(question.Remedy).PatchKeys);
    }

    /// <summary>
    /// In every cell and either way; but for what a known fault does: a cyan dye that has not formed takes red off D-max, and a little of
    /// that off HD, so that red of the two must be off by more. The same strips each time: nearer to the bound some are not asked about.
    /// </summary>
    [Theory]
    [InlineData(0.25, true)]
    [InlineData(0.25, false)]
    [InlineData(0.15, true)]
    [InlineData(0.15, false)]
    public void Any_value_that_is_off_by_enough_is_asked_about(double size, bool up)
    {
        var cells = from slot in Enumerable.Range(0, 5) from channel in Enumerable.Range(0, 3) select (slot, channel);
        Assert.All(cells.Where(c => size > 0.2 || c is not (2 or DMax, Red)), cell =>
        {
            var random = new Random((cell.slot * 3) + cell.channel);
            var strip = Strip.Moved((_, _) => 0.004 * random.Normal());
            var shown = strip[cell.slot][cell.channel] + (up || cell is (DMax, Red) ? size : -size);

            Assert.NotNull(Strip.Knowledge.AtEnd(Typed(strip, cell.slot, cell.channel, shown)));
        });
    }

    [Fact]
    public void One_value_alone_is_never_asked_about() =>
        Assert.Null(Strip.Knowledge.AtEnd([Some.Reds("ld", 1.46m)]));

    [Fact]
    public void Slips_undo_what_typing_does()
    {
        var slips = ValueMeant.Slips(0.28, 0.01).Select(s => Math.Round(s.Value, 2)).ToList();

        Assert.Contains(0.82, slips);
        Assert.Contains(0.38, slips);
        Assert.Contains(2.84, slips);
        Assert.Contains(0.03, slips);
        Assert.DoesNotContain(0.28, slips);
    }

    private static ImmutableArray<PatchReads> Typed(double[][] strip, int slot, int channel, double value)
    {
        decimal Shown(int s, int c) => decimal.Round((decimal)((s, c) == (slot, channel) ? value : strip[s][c]), 2) + 0.00m;
        return
        [
            .. Some.C41.Layout.Patches.Select((p, s) => new PatchReads(
                p, [new PatchRead(Reading.Entered(ChannelDensities.Rgb(Shown(s, Red), Shown(s, Green), Shown(s, Blue)), Some.Time))])),
        ];
    }
}
