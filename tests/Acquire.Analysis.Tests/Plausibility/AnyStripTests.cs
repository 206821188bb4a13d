using Acquire.Analysis.Plausibility;
using Acquire.Analysis.Tests.Judgement;

namespace Acquire.Analysis.Tests.Plausibility;

public class AnyStripTests
{
    private static readonly Gen<ChannelDensities> AnyDensities = Gen.Select(
        Gen.Int[-200, 1000].Nullable(), Gen.Int[-200, 1000].Nullable(), Gen.Int[-200, 1000], Gen.Int[-200, 1000].Nullable(),
        (r, g, b, v) => new ChannelDensities(Density(r), Density(g), Density(b), Density(v)));

    private static readonly Gen<PatchRead> AnyRead = Gen
        .Select(AnyDensities, Gen.Int[0, 40], Gen.Bool, Gen.Bool, (densities, halves, counts, typed) =>
    {
        var at = Some.Time.AddSeconds(halves / 2.0);
        return new PatchRead(
            new Reading(densities, at, typed ? [] : [RawLine.OfText("x", at)]), counts ? null : new Exclusion("dust", at));
    });

    private static readonly Gen<ImmutableArray<PatchReads>> AnyStrip = AnyRead.Array[0, 4].Array[5].Select(
        Gen.Int[0, 5], Gen.Int[0, 9], (reads, patches, leftOut) => reads
            .Take(patches)
            .Select(
                (r, i) => new PatchReads(Some.C41.Layout.Patches[i], [.. r], i == leftOut ? new Exclusion("scratched", Some.Time) : null))
            .ToImmutableArray());

    [Fact]
    public void Any_strip_is_looked_at_without_fault_and_evidence_is_a_number() =>
        Gen.Select(AnyStrip, Gen.Int[0, 15]).Sample(
            (patches, aims) =>
            {
                var check = new PlausibilityCheck(Strip.Knowledge with { Aims = [.. Strip.Knowledge.Aims.Take(aims)] });
                foreach (var ranked in new[] { check.RankAfterRead(patches), check.RankWhenComplete(patches) })
                {
                    Assert.All(ranked, s => Assert.True(double.IsFinite(s.Evidence)));
                    Assert.Equal(ranked.Select(s => s.Evidence).OrderDescending(), ranked.Select(s => s.Evidence));
                    Assert.All(ranked.Where(s => s.Remedy.ChangesReads()), s =>
                    {
                        var whole = Some.C41.Layout.Patches.Select((p, i) => i < patches.Length ? patches[i] : PatchReads.None(p))
                            .ToImmutableArray();
                        Assert.Equal(whole.Sum(p => p.Reads.Length), Remedies.Apply(s.Remedy, whole, Some.Time).Sum(p => p.Reads.Length));
                    });
                }
            },
            iter: 60);

    [Fact]
    public void Nothing_read_gives_no_question()
    {
        var check = new PlausibilityCheck(Strip.Knowledge);

        Assert.Null(check.QuestionAfterRead([]));
        Assert.Null(check.QuestionWhenComplete(default));
        Assert.Null(check.QuestionWhenComplete([.. Some.C41.Layout.Patches.Select(PatchReads.None)]));
    }

    [Fact]
    public void Question_is_the_first_of_the_ranking_and_never_below_the_threshold() =>
        Gen.Double[-0.3, 0.3].Array[15].Sample(
            moves =>
            {
                var patches = Strip.Read(Strip.Moved((s, c) => moves[(s * 3) + c]));
                var check = new PlausibilityCheck(Strip.Knowledge);
                var ranked = check.RankWhenComplete(patches);

                Assert.Equal(Told(ranked.FirstOrDefault(check.IsDecisive)), Told(check.QuestionWhenComplete(patches)));
                Assert.Null(new PlausibilityCheck(
                    Strip.Knowledge with { Settings = new PlausibilitySettings { GrossThreshold = 1e5, SubtleThreshold = 1e5 } })
                    .QuestionWhenComplete(patches));
            },
            iter: 8);

    [Fact]
    public void Aims_give_or_take_scatter_are_not_questioned() =>
        Gen.Select(Gen.Int[0, 100000], Gen.Double[-0.02, 0.02], Gen.Int[1, 4]).Sample(
            (seed, run, reads) =>
                Assert.Null(Strip.Knowledge.AtEnd(Strip.Read(Strip.Moved((s, _) => run * Math.Min(1.5, 0.25 + (0.75 * s))), seed, reads))),
            iter: 25);

    private static (string Key, double Evidence, string Question, string Remedy)? Told(Suspicion? suspicion) =>
        suspicion is { } s ? (s.Key, s.Evidence, s.Question, s.Remedy.ToString()) : null;

    private static Density? Density(int? hundredths) => hundredths is { } h ? new Density(h / 100m) : null;
}
