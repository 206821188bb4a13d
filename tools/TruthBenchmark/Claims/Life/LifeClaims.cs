using TruthBenchmark.Product;
using TruthBenchmark.World;

namespace TruthBenchmark.Claims.Life;

/// <summary>What is said of how long a developer lasts.</summary>
internal sealed class LifeClaims : IClaims
{
    private static readonly ImmutableArray<(int Strips, int Bottles, ImmutableArray<double> Days)> Sizes =
    [
        (6, 2, [2, 13, 26]), (15, 3, [1, 7, 14, 21, 28]), (60, 10, [1, 6, 12, 18, 24, 29]),
    ];

    public string Name => "life";

    public IEnumerable<Claim> Of(Run run) => Straight(run).Concat(NoAgeing(run)).Concat(Bent(run)).Concat(OtherStories.Of(run));

    /// <summary>What is said of many houses.</summary>
    public static ImmutableArray<Tally> Say(
        Run run, int stream, int draws, Func<Dice, AgeingStory> story, Func<LifeSaid, double, double[]> look) =>
        Tally.Of(draws, i =>
        {
            var dice = new Dice(run.Seed + stream, i);
            var drawn = story(dice);
            return look(Said(drawn.House(dice)), drawn.Ageing.Life);
        });

    // A program that ends with a stack trace has said nothing; it is counted by itself.
    public static LifeSaid Said(House house)
    {
        try
        {
            return LifeSaid.Of(new Desk(house, history: true));
        }
        catch (Exception fault) when (fault is ArgumentException or InvalidOperationException or ArithmeticException)
        {
            return new LifeSaid(LifeKind.Crashed, 0, double.PositiveInfinity, false, null, fault.Message, "");
        }
    }

    private static IEnumerable<Claim> Straight(Run run)
    {
        foreach (var (strips, bottles, days) in Sizes)
        {
            var found = Say(run, 40, run.Draws(1500, strips > 30 ? 20 : 80),
                d => new AgeingStory(Ageing.Straight(d.Times(16, 60)), bottles, days), (said, truth) =>
                [
                    said.Kind is LifeKind.Nothing or LifeKind.Crashed ? double.NaN : said.Holds(truth) ? 1 : 0,
                    said.Kind == LifeKind.Named ? 1 : 0,
                    said.Kind == LifeKind.Crashed ? 1 : 0,
                    said.Kind == LifeKind.Named ? said.Holds(truth) ? 1 : 0 : double.NaN,
                ]);
            var what = FormattableString.Invariant($"straight ageing, {strips} strips of {bottles} bottles, aims read once");
            yield return found[0].Claim($"l8-held-{strips}", $"{what}: whole answer holds", Band.Between(0.93, 0.97));
            yield return found[3].Claim($"l8-named-held-{strips}", $"{what}: where a life is named, it holds", Band.AtLeast(0.93));
            yield return found[1].Claim($"l8-named-{strips}", $"{what}: a life is named", Band.Shown);
            yield return found[2].Claim($"l8-crash-{strips}", $"{what}: ends with a fault of the program", Band.Never);
        }
    }

    private static IEnumerable<Claim> NoAgeing(Run run)
    {
        foreach (var (strips, bottles, days) in Sizes)
        {
            var found = Say(run, 41, run.Draws(1500, strips > 30 ? 20 : 80), _ => new AgeingStory(Ageing.None, bottles, days),
                (said, _) => [said.Kind == LifeKind.Named ? 1 : 0]);
            yield return found[0].Claim($"l8-none-{strips}", $"no ageing, {strips} strips: a life is named", Band.AtMost(0.05));
        }
    }

    /// <summary>Ways that bend, seen only to some day.</summary>
    private static IEnumerable<Claim> Bent(Run run)
    {
        (string Id, Ageing Ageing, double Seen)[] stories =
        [
            ("hinge-28", Ageing.Hinge, 28),
            ("hinge-40", Ageing.Hinge, 40),
            ("plateau", Ageing.Plateau, 28),
            ("exponential-28", Ageing.Exponential, 28),
            ("exponential-40", Ageing.Exponential, 40),
        ];
        foreach (var (id, ageing, seen) in stories)
        {
            foreach (var bottles in new[] { 3, 10 })
            {
                ImmutableArray<double> days = [1, seen * 0.2, seen * 0.4, seen * 0.6, seen * 0.8, seen];
                var found = Say(run, 42, run.Draws(1000, bottles > 5 ? 15 : 30), _ =>
                    new AgeingStory(ageing, bottles, days), (said, truth) =>
                [
                    said.PromisesBeyond(truth) ? 1 : 0,
                    said.Kind is LifeKind.Nothing or LifeKind.Crashed ? double.NaN : said.Holds(truth) ? 1 : 0,
                ]);
                var what = FormattableString.Invariant($"{ageing}, seen to day {seen:0}, {6 * bottles} strips");
                yield return found[0].Claim($"l8-{id}-{6 * bottles}-beyond", $"{what}: promised beyond the truth", Band.AtMost(0.05));
                yield return found[1].Claim($"l8-{id}-{6 * bottles}-held", $"{what}: whole answer holds", Band.Shown);
            }
        }
    }
}
