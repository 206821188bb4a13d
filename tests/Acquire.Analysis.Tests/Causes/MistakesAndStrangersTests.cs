using Acquire.Analysis.Causes;

namespace Acquire.Analysis.Tests.Causes;

/// <summary>What no fault has done must not be blamed on one: measured over many strips by <c>tools/TruthBenchmark</c>.</summary>
public class MistakesAndStrangersTests
{
    private static readonly string[] Order = ["dmin", "ld", "hd", "dmax", "yellow"];

    [Fact]
    public void Strip_read_from_the_wrong_end_is_said_to_be_so()
    {
        var study = Study(InOrder(1).Written((patch, c, _) => Aim(Order[^(Array.IndexOf(Order, patch) + 1)], c)));

        Assert.Equal("wrong-end", study.Ranked.First().Of.Key);
        Assert.StartsWith("Read the strip again from the right end", study.Steps[0], StringComparison.Ordinal);
    }

    [Fact]
    public void Strip_read_one_patch_early_is_said_to_be_so() => Assert.Equal("shifted-patches", Study(InOrder(2).Written(
        (patch, c, value) => patch == "yellow" ? value : Aim(Order[Array.IndexOf(Order, patch) + 1], c))).Ranked.First().Of.Key);

    [Fact]
    public void Colours_and_patches_in_each_others_place_are_told_with_their_names()
    {
        var colours = Study(InOrder(3).Written((patch, c, value) =>
            c is Channel.Red ? Aim(patch, Channel.Green) : c is Channel.Green ? Aim(patch, Channel.Red) : value));
        var patches = Study(InOrder(4).Written((patch, c, value) =>
            patch is "hd" ? Aim("dmax", c) : patch is "dmax" ? Aim("hd", c) : value));

        Assert.Equal("swapped-colours", colours.Ranked.First().Of.Key);
        Assert.Contains(colours.Ranked.First().Circumstances, s => s.Contains("red and green", StringComparison.Ordinal));
        Assert.Equal("swapped-patches", patches.Ranked.First().Of.Key);
        Assert.Contains(patches.Ranked.First().Circumstances, s => s.StartsWith("HD and D-max", StringComparison.Ordinal));
    }

    [Fact]
    public void One_value_of_any_size_never_makes_a_fault_certain() => CsCheck.Check.Sample(
        CsCheck.Gen.Select(
            CsCheck.Gen.Int[0, Order.Length - 1], CsCheck.Gen.Int[0, 2], CsCheck.Gen.Double[0.08, 2], CsCheck.Gen.Bool,
            CsCheck.Gen.Int[1, 1000]),
        (patch, colour, size, up, seed) =>
        {
            var off = Math.Round((decimal)(up ? size : -size), 2);
            var study = Study(InOrder(seed).Written((p, c, v) =>
                p == Order[patch] && c == Channels.Colours[colour] ? Math.Max(0, v + off) : v));

            Assert.DoesNotContain(study.Groups, g => g.Probability >= 0.9 && g.Causes[0].Of is FaultSignature);
            Assert.All(study.Groups, g => Assert.InRange(g.Probability, 0, 1));
        },
        iter: 30,
        threads: 1);

    [Fact]
    public void Mistyped_value_is_named_and_read_again_first()
    {
        var study = Study(InOrder(5).Written((p, c, v) => p == "ld" && c == Channel.Green ? v - 0.54m : v));

        Assert.Equal("one-value", study.Ranked.First().Of.Key);
        Assert.Contains(study.Ranked.First().Circumstances, s => s.StartsWith("LD green alone is off, by", StringComparison.Ordinal));
        Assert.StartsWith("Read the strip again", study.Steps[0], StringComparison.Ordinal);
    }

    [Fact]
    public void Damaged_patch_is_named()
    {
        var study = Study(InOrder(6).Written((p, _, v) => p == "hd" ? v + 0.15m : v));

        Assert.Equal(FaultFamily.DamagedPatch, study.Groups[0].Family);
    }

    [Fact]
    public void Strip_of_another_lot_is_told_when_that_lots_aims_are_known()
    {
        var random = new Random(7);
        ImmutableArray<Aim> aims =
        [
            .. from p in Order from c in Channels.Colours
               select new Aim(p, c, Math.Round(FaultyStrips.AimOf(p, c) + (0.10 * (random.NextDouble() - 0.5)), 2), 0, 0.002),
        ];
        var strip = InOrder(8).Written((p, c, v) =>
            v + (decimal)Math.Round(aims.Single(a => a.PatchKey == p && a.Channel == c).Value - FaultyStrips.AimOf(p, c), 2));
        var study = CauseStudy.Of(strip, CauseContext.None with { OtherLots = [new LotAims("1208", aims)] });

        Assert.Equal("other-lot", study.Ranked.First().Of.Key);
        Assert.Contains("It fits the aims of lot 1208.", study.Ranked.First().Circumstances);
        Assert.True(study.Groups[0].Probability > Study(strip).Groups.FirstOrDefault(g => g.Family == FaultFamily.OtherLot)?.Probability);
    }

    [Fact]
    public void Pattern_of_no_known_fault_is_something_else_and_is_read_again_first()
    {
        // Colours that cross: red up and green down in the dark. Nothing of the list does that.
        var study = Study(InOrder(9).Written((p, c, v) => v + (p is "dmin" or "yellow" ? 0 : p is "ld" ? 0.05m : 0.15m)
            * (c is Channel.Red ? 1 : c is Channel.Green ? -1 : 0)));

        Assert.True(study.FitsNothing, study.Ranked.First().Of.Key);
        Assert.StartsWith("Read the strip again before anything else", study.Steps[0], StringComparison.Ordinal);
        Assert.Contains(study.Steps, s => s.StartsWith("Run a second strip", StringComparison.Ordinal));
        Assert.DoesNotContain(study.Groups, g => g.Probability >= 0.9 && g.Causes[0].Of is FaultSignature);
    }

    [Theory]
    [InlineData("retained-silver", "fixer-in-developer")]
    [InlineData("leuco-cyan", "under-time")]
    public void Two_faults_at_once_are_both_named(string one, string other)
    {
        var (a, b) = (KnownFault.Of(one), KnownFault.Of(other));
        var strip = FaultyStrips.With(a, 1.2, new Random(10)).Written((p, c, v) => v + Math.Round((decimal)(1.2 * b.Size(p, c)), 2));
        var study = Study(strip);

        Assert.Superset(new HashSet<FaultFamily> { a.Family, b.Family }, study.Groups.Take(3).Select(g => g.Family).ToHashSet());
        Assert.Contains(study.Pairs, p => new[] { p.First, p.Second }.Contains(a.Family) && new[] { p.First, p.Second }.Contains(b.Family));
    }

    [Theory]
    [InlineData("something-else")]
    [InlineData("one-value")]
    public void Whatever_is_no_fault_can_be_ruled_out_too(string key)
    {
        var strip = InOrder(11).Written((p, c, v) => p == "ld" && c == Channel.Green ? v - 0.54m : v);

        Assert.DoesNotContain(CauseStudy.Of(strip, CauseContext.None with { RuledOut = [key] }).Ranked, c => c.Of.Key == key);
    }

    private static CauseStudy Study(StripRecord strip) => CauseStudy.Of(strip, CauseContext.None);

    private static StripRecord InOrder(int seed) => FaultyStrips.With(null, 0, new Random(seed));

    private static decimal Aim(string patch, Channel channel) => Math.Round((decimal)FaultyStrips.AimOf(patch, channel), 2);
}
