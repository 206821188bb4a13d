using Acquire.Analysis.Life;
using Acquire.Analysis.Statistics;
using Acquire.Instruments.Simulation;

namespace TruthBenchmark;

/// <summary>
/// How often the 95 % interval of a life holds the true life. The true line falls by 0.0025 a day and reaches −0.07 at day 28.
/// </summary>
internal static class LifeCoverage
{
    public static void Print(int trials, int seed)
    {
        Table.Title($"Life: share of 95 % intervals that hold the true one, {trials} each, seed {seed}");
        Table.Row("bottles × strips, scatter between bottles", "holds", "bounded", "mean width");
        foreach (var (bottles, strips, between) in new[] { (1,
            8,
            0.0), (3, 4, 0.0), (5, 4, 0.0), (5, 4, 0.006), (5, 4, 0.015), (10, 4, 0.015) })
        {
            var (held, bounded, width) = (0, 0, 0.0);
            var gate = new object();
            Parallel.For(0, trials, i =>
            {
                var life = LifeModel.Of(Rows(new SeededChance(seed, i), bottles, strips, between)).Reaches(-0.07);
                var isBounded = life.Kind == RatioKind.Bounded;
                var holds = isBounded
                    ? life.Lower <= 28 && life.Upper >= 28
                    : life.Kind == RatioKind.Everything || life.Lower >= 28 || life.Upper <= 28;
                lock (gate)
                {
                    held += holds ? 1 : 0;
                    bounded += isBounded ? 1 : 0;
                    width += isBounded ? life.Upper - life.Lower : 0;
                }
            });
            Table.Row(
                FormattableString.Invariant($"{bottles} × {strips}, {between:0.000}"),
                held / (double)trials,
                bounded / (double)trials,
                width / Math.Max(1, bounded));
        }
    }

    private static ImmutableArray<LifeRow> Rows(SeededChance chance, int bottles, int strips, double between)
    {
        var noise = new FilmNoise();
        return
        [
            .. from bottle in Enumerable.Range(0, bottles)
               let own = chance.Next(between)
               from strip in Enumerable.Range(0, strips)
               let age = 1 + (strip * 24.0 / (strips - 1))
               select new LifeRow(
                   (-0.0025 * age) + own + chance.Next(0.5 * noise.Run) + chance.Next(noise.Repeatability), $"D{bottle}", "2417", age),
        ];
    }
}
