using Acquire.Analysis.Plausibility;
using Acquire.Analysis.Tests.Judgement;

namespace Acquire.Analysis.Tests.Plausibility;

/// <summary>A line whose D-max lies low on every strip: once that is known, it is no edge that was read.</summary>
public class LineLatelyTests
{
    private const int DMax = 3;

    private static readonly double[][] Low = Strip.Moved((slot, _) => slot == DMax ? -0.22 : 0);

    [Fact]
    public void What_the_line_did_on_its_last_strips_is_not_asked_about()
    {
        Assert.Equal(SuspicionKind.PatchEdge, Strip.Knowledge.AtEnd(Strip.Read(Low, 9))?.Kind);
        Assert.Null(After(4, Low).AtEnd(Strip.Read(Low, 9)));
    }

    [Fact]
    public void Two_strips_are_no_level() =>
        Assert.Equal(SuspicionKind.PatchEdge, After(2, Low).AtEnd(Strip.Read(Low, 9))?.Kind);

    [Fact]
    public void A_mistake_beside_the_level_of_the_line_is_asked_about_all_the_same() => Assert.Equal(
        SuspicionKind.WrongValue,
        After(4, Low).AtEnd(Strip.Read([.. Low.Select((p, s) => s == 1 ? [p[0], p[1] + 0.25, p[2]] : p)], 9, reads: 1))?.Kind);

    [Fact]
    public void One_ruined_strip_among_them_makes_no_level() => Assert.Equal(
        SuspicionKind.PatchEdge,
        (After(4, Strip.OnAim) with { Lately = [.. After(4, Strip.OnAim).Lately.SetItem(1, Of(Low, 3))] })
            .AtEnd(Strip.Read(Low, 9))?.Kind);

    [Fact]
    public void Line_that_was_put_right_is_not_asked_about() => Assert.Null(After(6, Low).AtEnd(Strip.Read(Strip.OnAim, 9)));

    private static StripKnowledge After(int strips, double[][] densities) =>
        Strip.Knowledge with { Lately = [.. Enumerable.Range(0, strips).Select(i => Of(densities, 20 + i))] };

    private static StripRecord Of(double[][] densities, int seed) => Some.Strip(Strip.Read(densities, seed), Strip.Aims(Strip.OnAim));
}
