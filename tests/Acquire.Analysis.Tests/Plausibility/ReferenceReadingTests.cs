using Acquire.Analysis.Plausibility;
using Acquire.Analysis.Tests.Judgement;

namespace Acquire.Analysis.Tests.Plausibility;

/// <summary>While the lot's own reference is read there are no aims yet.</summary>
public class ReferenceReadingTests
{
    private static readonly StripKnowledge Unknown = Strip.Knowledge with { Aims = [] };

    [Fact]
    public void Reference_that_is_in_order_is_not_questioned()
    {
        for (var seed = 0; seed < 20; seed++)
        {
            Assert.Null(Unknown.FirstQuestion(Strip.Read(Strip.OnAim, seed)));
        }
    }

    [Fact]
    public void Repeats_far_apart_and_zero_readings_are_asked_about()
    {
        Assert.Equal(
            SuspicionKind.SpreadOfRepeats, Unknown.FirstQuestion(Strip.Read(Strip.OnAim, off: r => r is (2, 1, _) ? 0.15 : 0))?.Kind);
        Assert.Equal(SuspicionKind.RelativeMode, Unknown.FirstQuestion(Strip.Read(Strip.Moved((_, c) => -Strip.OnAim[0][c])))?.Kind);
    }

    [Fact]
    public void Colours_out_of_order_are_asked_about_on_a_masked_negative_only()
    {
        var patches = Strip.Read([.. Strip.OnAim.Select(p => new[] { p[2], p[1], p[0] })]);

        Assert.Equal(SuspicionKind.ColourOrder, Unknown.FirstQuestion(patches)?.Kind);
        var sheet = Unknown.Sheet;
        var unmasked = new ProcessSheet(sheet.Key, sheet.Name, DensityStatus.A, sheet.Layouts, sheet.Parameters);
        Assert.Null((Unknown with { Sheet = unmasked }).FirstQuestion(patches));
    }

    [Fact]
    public void Names_tell_the_order_of_neutrals()
    {
        var patches = Strip.Read([Strip.OnAim[0], Strip.OnAim[2], Strip.OnAim[1], Strip.OnAim[3], Strip.OnAim[4]]);

        Assert.Equal(SuspicionKind.NeutralOrder, Unknown.FirstQuestion(patches)?.Kind);
        var question = Unknown.AtEnd(patches)!;
        Assert.Equal("These look like LD and HD exchanged: reorder?", question.Question);
        Assert.Null(Unknown.AtEnd(Remedies.Apply(question.Remedy, patches, Some.Time)));
    }

    [Fact]
    public void Strip_read_from_the_wrong_end_is_turned_round() =>
        Assert.Equal(
            new[] { 4, 3, 2, 1, 0 },
            Assert.IsType<Remedy.ReorderPatches>(Unknown.AtEnd(Strip.Read([.. Strip.OnAim.Reverse()]))!.Remedy).From);

    [Fact]
    public void Wet_reference_is_asked_about() => Assert.Equal(
        SuspicionKind.NotDry,
        (Unknown with { Instrument = Strip.Tested(0.003) }).FirstQuestion(
            Strip.Read(Strip.OnAim, decimals: 3, scatter: 0.003, off: r => 0.12 * Math.Exp(-r.Seconds / 60)))?.Kind);
}
