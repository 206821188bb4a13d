using Acquire.Analysis.Judgement;
using Acquire.Analysis.Uncertainty;

namespace Acquire.Analysis.Tests.Judgement;

public class VerdictTests
{
    [Fact]
    public void Budget_names_every_part_and_adds_up_to_the_uncertainty()
    {
        var result = Judge((0.50m, 0.50m, 0.52m)).Result("ld", Channel.Red);

        Assert.Equal(
            ["re-placed reads", "display step", "reading of the reference strip", "zero set anew, assumed"],
            result.Budget!.Components.Select(c => c.Name));
        Assert.Equal(
            result.StandardUncertainty!.Value, Math.Sqrt(result.Budget.Components.Sum(c => c.Contribution * c.Contribution)), 1e-12);
        Assert.Equal(5 * 2, result.Budget.Components[0].DegreesOfFreedom); // five patches, three reads each
    }

    /// <summary>An error of zero is in both patches of a difference alike.</summary>
    [Fact]
    public void Zero_between_calibrations_counts_for_a_patch_and_cancels_in_a_difference()
    {
        var (shared, apart) = (ZeroBetween.OfChecks(true, 0.02), ZeroBetween.OfChecks(false, 0.02));
        var strip = Strip((0.50m, 0.50m, 0.52m));
        StripJudgement By(ZeroBetween zero) => StripJudge.Judge(strip, JudgingGround.Of(strip) with { Zero = zero });
        double U(string key, ZeroBetween zero) => By(zero).Result(key, Channel.Red).StandardUncertainty!.Value;

        Assert.Equal(U("ld", ZeroBetween.None), U("ld", shared), 1e-15);
        Assert.Equal(Math.Sqrt(Math.Pow(U("ld", shared), 2) + (0.0004 / 3)), U("ld", apart), 1e-12);
        Assert.Equal(U("contrast", shared), U("contrast", apart), 1e-15);
        Assert.Equal(By(shared).Result("spread").StandardUncertainty, By(apart).Result("spread").StandardUncertainty);
    }

    [Fact]
    public void Verdict_counts_the_uncertainty_where_the_zone_does_not()
    {
        // Both lie past the control limit of 0.08 by a hair and by far.
        var (hair, far) = (Judge((0.54m, 0.54m, 0.55m)).Result("ld", Channel.Red), Judge((0.66m, 0.66m, 0.67m)).Result("ld", Channel.Red));

        Assert.Equal(Domain.Processes.Zone.Out, hair.Zone);
        Assert.Equal(Verdict.Undecided, hair.Verdict!.Verdict);
        Assert.NotNull(hair.Verdict.WhatDecides);
        Assert.Equal(Verdict.OutOfControl, far.Verdict!.Verdict);
        Assert.Null(far.Verdict.WhatDecides);
        Assert.True(far.Verdict.ProbabilityInside < 0.05 && far.Verdict.ProbabilityInsideAction <= far.Verdict.ProbabilityInside);
    }

    [Fact]
    public void Strip_on_aim_is_in_control_in_everything() =>
        Assert.All(Judge((0.46m, 0.46m, 0.46m)).Results, r => Assert.Equal(Verdict.InControl, r.Verdict!.Verdict));

    [Fact]
    public void Spread_is_as_sure_as_a_spread_on_its_limit_would_show_more()
    {
        var judgement = Judge((0.52m, 0.52m, 0.53m));
        var spread = judgement.Result("spread");
        var colours = Channels.Colours.Select(c => judgement.Result("contrast", c)).ToList();
        var (least, shown) = (colours.Min(c => c.Deviation!.Value), spread.Deviation!.Value);

        var onLimit = 1 - RangeOfThree.Probability(
            shown,
            [.. colours.Select(c => (c.Deviation!.Value - least) / shown * 0.09)], [.. colours.Select(c => c.StandardUncertainty!.Value)]);
        Assert.InRange(spread.Verdict!.ProbabilityInside, onLimit - 0.05, onLimit + 0.05);
    }

    [Fact]
    public void More_reads_that_are_promised_do_decide() => Gen.Select(Gen.Decimal[0.50m, 0.56m], Gen.Int[0, 3]).Sample((density, step) =>
    {
        var first = decimal.Round(density, 2);
        var result = Judge((first, first, first + (0.01m * step))).Result("ld", Channel.Red);
        if (result.Verdict is { Verdict: Verdict.Undecided, MoreReads: { } more })
        {
            var reading = result.Budget!.Components[0];
            var then = result.Budget with { Components = [
                reading with { Contribution = reading.Contribution * Math.Sqrt(3.0 / (3 + more)) }, .. result.Budget.Components[1..]] };
            Assert.NotEqual(
                Verdict.Undecided,
                Verdicts.Of(
                    Conformity.Inside(result.Verdict.Limit, result.Deviation!.Value, then.StandardUncertainty, then.DegreesOfFreedom)));
        }
    });

    /// <summary>
    /// A true deviation on the limit is called in or out no oftener than one time in twenty each; the bound allows what chance does in so
    /// few draws. <c>tools/TruthBenchmark</c> has the figure.
    /// </summary>
    [Theory]
    [InlineData(2, 0.003)]
    [InlineData(3, 0.006)]
    [InlineData(5, 0.012)]
    public void Wrong_verdicts_at_the_limit_are_as_rare_as_asked_for(int reads, double sigma)
    {
        var random = new Random(5);
        var (wrongIn, wrongOut, trials) = (0, 0, 150);
        for (var trial = 0; trial < trials; trial++)
        {
            var verdict = StripJudge.Judge(Drawn(random, 0.0800001, reads, sigma)).Result("ld", Channel.Red).Verdict!.Verdict;
            wrongIn += verdict == Verdict.InControl ? 1 : 0;
            wrongOut += verdict == Verdict.OutOfControl ? 1 : 0;
        }

        Assert.InRange(wrongIn / (double)trials, 0, 0.10);
        Assert.InRange(wrongOut / (double)trials, 0, 0.10);
    }

    [Fact]
    public void Strips_of_one_session_combine_with_run_scatter_apart_from_reading()
    {
        var random = new Random(6);
        var strips = Enumerable.Range(0, 6)
            .Select(_ => StripJudge.Judge(Drawn(random, 0.04 + (0.02 * Statistics.RandomNumbers.Normal(random)), 3, 0.006)))
            .ToList();

        var ld = CombinedResult.Of(strips).Single(r => r.Parameter.Key == "ld" && r.Channel == Channel.Red);

        Assert.Equal(6, ld.Deviations.Length);
        Assert.Equal(ld.Deviations.Average(), ld.Mean, 1e-9);
        Assert.InRange(ld.RunScatter, 0.008, 0.04);
        Assert.InRange(ld.ReadingScatter, 0.002, 0.008);
        Assert.True(ld.Budget.StandardUncertainty < ld.RunScatter);
        Assert.NotNull(ld.Verdict);
    }

    [Fact]
    public void Strips_that_agree_better_than_reading_allows_rest_on_the_reading()
    {
        var strip = Judge((0.46m, 0.47m, 0.48m));
        var ld = CombinedResult.Of([strip, strip]).Single(r => r.Parameter.Key == "ld" && r.Channel == Channel.Red);

        Assert.Equal(0, ld.RunScatter);
        Assert.Equal("reading of the strips", ld.Budget.Components[0].Name);
    }

    private static StripJudgement Judge((decimal A, decimal B, decimal C) ldRed) => StripJudge.Judge(Strip(ldRed));

    private static Domain.Records.StripRecord Strip((decimal A, decimal B, decimal C) ldRed) => Some.Strip(
        [
            .. Some.Patches(Some.Densities, 3).Select(p => p.Patch.Key == "ld"
                ? Some.Reads("ld", new[] { ldRed.A, ldRed.B, ldRed.C }.Select(r => Some.Reading(r, 0.84m, 1.04m))) : p),
        ],
        SharpAims());

    private static Domain.Records.StripRecord Drawn(Random random, double deviation, int reads, double sigma) => Some.Strip(
        [
            .. Some.Densities.Select(d => Some.Reads(d.Key, Enumerable.Range(0, reads).Select(_ => new Reading(
                ChannelDensities.Rgb(
                    Show(random, d.R, d.Key == "ld" ? deviation : 0, sigma),
                    Show(random, d.G, 0, sigma),
                    Show(random, d.B, 0, sigma)), Some.Time, [])))),
        ],
        SharpAims());

    private static decimal Show(Random random, decimal aim, double deviation, double sigma) =>
        decimal.Round(
            (decimal)((double)aim + deviation + (sigma * Statistics.RandomNumbers.Normal(random))), 2, MidpointRounding.AwayFromZero);

    private static ImmutableArray<Aim> SharpAims() =>
    [
        .. Some.Densities.SelectMany(d => new[] { (Channel.Red, d.R), (Channel.Green, d.G), (Channel.Blue, d.B) }.Select(
            c => new Aim(d.Key, c.Item1, (double)c.Item2, 0, 0.001))),
    ];
}
