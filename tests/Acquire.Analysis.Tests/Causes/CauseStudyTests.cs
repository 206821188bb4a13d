using Acquire.Analysis.Causes;
using Acquire.Analysis.Control;

namespace Acquire.Analysis.Tests.Causes;

public class CauseStudyTests
{
    private static ImmutableArray<FaultSignature> Faults { get; } = [.. FaultSignatures.Of("c41").Where(s => s.Shows)];

    [Fact]
    public void Families_have_the_words_that_scripts_were_promised() => Assert.Equal(
        [
            "contamination", "damagedPatch", "developerStrong", "developerWeak", "instrument", "leucoCyan", "otherLot", "otherMaker",
            "otherStatus", "reading", "retainedSilver", "somethingElse", "stain", "strips",
        ],
        Possibilities.Of("c41").Select(s => s.Family.Key).Distinct().Order(StringComparer.Ordinal));

    [Fact]
    public void Nothing_is_said_of_most_strips_without_a_fault()
    {
        var random = new Random(1);
        var quiet =
            Enumerable.Range(0, 100).Count(_ => CauseStudy.Of(FaultyStrips.With(null, 0, random), CauseContext.None).NothingHappened);

        Assert.True(quiet >= 90, $"{quiet} of 100");
    }

    [Fact]
    public void Fault_on_top_of_an_aged_developer_is_found_in_what_changed()
    {
        var random = new Random(3);
        var (aged, fixer) = (KnownFault.Of("developer-oxidised"), KnownFault.Of("fixer-in-developer"));
        var both = fixer with
        {
            Sizes = fixer.Sizes.ToImmutableDictionary(
                s => s.Key,
                s => new ColourSizes(Sum(s.Key, Channel.Red), Sum(s.Key, Channel.Green), Sum(s.Key, Channel.Blue)),
                StringComparer.OrdinalIgnoreCase),
        };
        var (alone, since) = (0.0, 0.0);
        for (var i = 0; i < 12; i++)
        {
            var strip = FaultyStrips.With(both, 1, random);
            alone += Probability(CauseContext.None);
            since += Probability(CauseContext.None with { Before = FaultyStrips.With(aged, 1, random) });

            double Probability(CauseContext context) =>
                CauseStudy.Of(strip, context).Ranked.FirstOrDefault(c => c.Of.Key == fixer.Key)?.Probability ?? 0;
        }

        Assert.True(since / 12 > 0.3 && since > 2 * alone, $"{alone / 12:0.00} by the strip alone, {since / 12:0.00} by what changed");

        double Sum(string patch, Channel channel) => fixer.Size(patch, channel) + aged.Size(patch, channel);
    }

    [Fact]
    public void Family_of_a_clear_fault_comes_first()
    {
        var random = new Random(2);
        var (right, all) = (0, 0);
        foreach (var fault in Faults)
        {
            // One and a half times its action limit, in the parameter that it moves most against its limit.
            for (var i = 0; i < 3; i++)
            {
                var study = CauseStudy.Of(FaultyStrips.With(fault, SizeAtLimit(fault) * 1.5, random), CauseContext.None);
                right += study.Groups is [var first, ..] && first.Family == fault.Family ? 1 : 0;
                all++;
            }
        }

        Assert.True(right >= 0.85 * all, $"{right} of {all}");
    }

    [Fact]
    public void Retained_silver_is_named_with_its_test_and_what_speaks_for_it()
    {
        var study = CauseStudy.Of(FaultyStrips.With(KnownFault.Of("retained-silver"), 1, new Random(3)), CauseContext.None);

        Assert.Equal("retained-silver", study.Ranked.First().Of.Key);
        Assert.Contains(study.Ranked.First().Supporting, o => o.PatchName.Contains("D-max", StringComparison.OrdinalIgnoreCase));
        var bleach =
            study.Steps.IndexOf(study.Steps.Single(s => s.StartsWith("Bleach and fix this strip again", StringComparison.Ordinal)));
        Assert.True(bleach < study.Steps.IndexOf(study.Steps.Single(s => s.StartsWith("Run a second strip", StringComparison.Ordinal))));
    }

    [Fact]
    public void High_contrast_without_the_patches_that_show_silver_asks_for_the_test()
    {
        var study = CauseStudy.Of(
            FaultyStrips.With(KnownFault.Of("over-time"), 1.5, new Random(4), leftOut: ["dmax", "yellow"]), CauseContext.None);

        Assert.Contains(study.Steps, s => s.StartsWith("Bleach and fix this strip again", StringComparison.Ordinal));
    }

    [Fact]
    public void Reading_and_instrument_come_before_the_solutions()
    {
        var steps = CauseStudy.Of(FaultyStrips.With(KnownFault.Of("developer-cold"), 1.2, new Random(5)), CauseContext.None).Steps;

        Assert.StartsWith("Look at the strip again", steps[0], StringComparison.Ordinal);
        Assert.Contains("densitometer", steps[1], StringComparison.Ordinal);
        Assert.Contains("Change one thing only", steps[^1], StringComparison.Ordinal);
    }

    [Fact]
    public void Books_and_time_shape_decide_among_what_the_strip_cannot_tell_apart()
    {
        var record = FaultyStrips.With(KnownFault.Of("under-replenished"), 1, new Random(6));
        var (used, fresh) = (
            CauseStudy.Of(record, new CauseContext { Shape = DriftShape.Gradual, RollsPerLitre = 14 }),
            CauseStudy.Of(record, new CauseContext { Shape = DriftShape.Jump, RollsPerLitre = 0.2, NewMix = true }));

        Assert.True(Probability(used, "under-replenished") > 3 * Probability(fresh, "under-replenished"));
        Assert.Contains(
            used.Ranked.First(c => c.Of.Key == "under-replenished").Circumstances,
            c => c.Contains("14 rolls", StringComparison.Ordinal));
    }

    [Fact]
    public void Fault_that_a_test_ruled_out_is_not_named_again()
    {
        var record = FaultyStrips.With(KnownFault.Of("retained-silver"), 1, new Random(3));

        Assert.DoesNotContain(
            CauseStudy.Of(record, new CauseContext { RuledOut = ["retained-silver"] }).Ranked, c => c.Of.Key == "retained-silver");
    }

    [Fact]
    public void Probabilities_add_up_and_fall_along_the_ranking()
    {
        var study = CauseStudy.Of(FaultyStrips.With(KnownFault.Of("fixer-in-developer"), 1, new Random(7)), CauseContext.None);

        // Two at once count in both families.
        var twice = study.Pairs.Sum(p => p.Probability);
        Assert.InRange(study.NothingProbability + study.Groups.Sum(g => g.Probability) - twice, 0.98, 1.1);
        Assert.All(study.Groups, g => Assert.InRange(g.Probability, 0, 1));
        Assert.Equal(study.Ranked.Select(c => c.Probability).OrderDescending(), study.Ranked.Select(c => c.Probability));
    }

    [Fact]
    public void Process_without_signatures_says_so()
    {
        var sheet = FaultyStrips.Sheet;
        var other = new Domain.Processes.ProcessSheet("own", "Own process", sheet.Status, sheet.Layout, sheet.Parameters);
        var record = FaultyStrips.With(null, 0, new Random(8));
        var same = new Domain.Records.StripRecord(
            record.Id, record.LotCode, record.Layout, other, record.Patches, record.Means, record.Aims, record.Provenance, record.Revision);

        Assert.Contains("No fault signatures", CauseStudy.Of(same, CauseContext.None).WhyNone, StringComparison.Ordinal);
    }

    [Fact]
    public void Strip_with_no_patch_left_gives_a_reason_and_no_causes()
    {
        var study =
            CauseStudy.Of(FaultyStrips.With(null, 0, new Random(9), leftOut: ["dmin", "ld", "hd", "dmax", "yellow"]), CauseContext.None);

        Assert.True(study.NothingHappened);
        Assert.NotNull(study.WhyNone);
    }

    private static double Probability(CauseStudy study, string key) =>
        study.Ranked.FirstOrDefault(c => c.Of.Key == key)?.Probability ?? 0.01;

    /// <summary>The size at which the fault just reaches an action limit of the shipped sheet.</summary>
    private static double SizeAtLimit(FaultSignature fault)
    {
        double Of(string patch, Channel channel) => fault.Size(patch, channel);
        var shares = Channels.Colours.SelectMany(c => new[]
        {
            Math.Max(0, Of("dmin", c)) / 0.03, Math.Abs(Of("ld", c)) / 0.06, Math.Abs(Of("hd", c) - Of("ld", c)) / 0.07,
        }).Append(Math.Max(0, Of("dmax", Channel.Blue) - Of("yellow", Channel.Blue)) / 0.10);
        return 1 / shares.Max();
    }
}
