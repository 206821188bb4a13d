using Acquire.Analysis.Plausibility;

namespace Acquire.Analysis.Tests.Plausibility;

/// <summary>What a process truly did is not taken for a mistake of reading, however bad; and what is none of it is found. Recipes of our
/// own, common practice, no source.</summary>
[Trait("speed", "slow")]
public class RuinedFilmTests
{
    private const int Strips = 6;

    public static TheoryData<string, Func<double, int, int, double>> Ruined => new()
    {
        { "dead developer", (share, s, c) => -(0.55 + (0.4 * share)) * Image(s, c) },
        { "pushed by two stops", (share, s, c) => 0.04 + ((0.2 + (0.2 * share)) * Image(s, c)) },
        { "bleach skipped", (share, s, c) => (0.35 + (0.3 * share)) * (Image(s, 0) + Image(s, 1) + Image(s, 2)) / 3 },
        { "fogged by light", (share, s, c) => Math.Log10(1 + ((Math.Pow(10, 0.15 + (0.5 * share)) - 1) * Math.Pow(10, -Image(s, c)))) },
    };

    [Theory]
    [MemberData(nameof(Ruined))]
    public void Film_that_was_ruined_is_not_questioned(string film, Func<double, int, int, double> deviation)
    {
        var asked = Enumerable.Range(0, Strips)
            .Select(i => Strip.Knowledge.FirstQuestion(
                Strip.Read(Strip.Moved((s, c) => deviation((double)i / Strips, s, c)), seed: i, reads: 1)))
            .Where(q => q is not null)
            .ToList();

        Assert.True(asked.Count == 0, $"{film}: {asked.FirstOrDefault()?.Question}");
    }

    [Theory]
    [InlineData(-0.15)]
    [InlineData(-0.35)]
    public void Darkest_patch_read_at_its_edge_is_asked_about(double off)
    {
        var question = Strip.Knowledge.FirstQuestion(Strip.Read(Strip.Moved((s, _) => s == 3 ? off : 0), reads: 1))!;

        Assert.Equal(SuspicionKind.PatchEdge, question.Kind);
        Assert.Equal(["dmax"], Assert.IsType<Remedy.ReadPatchAgain>(question.Remedy).PatchKeys);
    }

    [Theory]
    [InlineData(0.07)]
    [InlineData(-0.07)]
    public void Zero_that_drifts_along_the_strip_is_asked_about(double off)
    {
        var question = Strip.Knowledge.FirstQuestion(Strip.Read(Strip.Moved((s, _) => off * s / 4), reads: 1))!;

        Assert.Equal(SuspicionKind.ZeroDrift, question.Kind);
        Assert.IsType<Remedy.CheckZero>(question.Remedy);
    }

    [Fact]
    public void Patches_of_two_strips_are_asked_about()
    {
        // D-min to HD on aim, and D-max and yellow of a strip that was developed far too short.
        var question = Strip.Knowledge.AtEnd(Strip.Read(Strip.Moved((s, c) => s < 3 ? 0 : -0.15 * Image(s, c)), reads: 1))!;

        Assert.Equal(SuspicionKind.TwoStrips, question.Kind);
        Assert.Contains("From D-max on", question.Question, StringComparison.Ordinal);
    }

    private static double Image(int slot, int channel) => Strip.OnAim[slot][channel] - Strip.OnAim[0][channel];
}
