using Acquire.Analysis.Uncertainty;
using TruthBenchmark.Product;
using TruthBenchmark.World;

namespace TruthBenchmark.Claims.Verdicts;

/// <summary>Strips read at one kind of bench, and what the intervals and verdicts on them were worth.</summary>
internal sealed class Readings
{
    private readonly ImmutableArray<Tally> _held;
    private readonly ImmutableArray<string> _keys;

    private Readings(ImmutableArray<Tally> held, ImmutableArray<string> keys) => (_held, _keys) = (held, keys);

    /// <summary>Share of intervals at 95 % that hold the truth, over the parameters named; all but the spread when none is.</summary>
    public Tally Held(string? key = null) => _held[key is null ? 0 : 3 + _keys.IndexOf(key)];

    /// <summary>Truth on a limit: share called in.</summary>
    public Tally In => _held[1];

    /// <summary>Truth on a limit: share called out.</summary>
    public Tally Out => _held[2];

    public static Readings Of(int draws, long seed, Func<Dice, ReadingStory> story)
    {
        ImmutableArray<string> keys = ["dmin", "ld", "contrast", "silver"];
        var tallies = Tally.Of(draws, i =>
        {
            var dice = new Dice(seed, i);
            var (bench, anywhere, limits) = (story(dice), Placed.Anywhere(dice), Placed.AtLimits(dice, 1));
            var held = Said(bench, anywhere, dice).Select(s => (s.Key, Holds: s.Holds(Measures.Of(anywhere, s.Key, s.Colour)))).ToList();
            var onLimit = Said(bench, limits, dice);
            return
            [
                Share(held, _ => true),
                onLimit.Average(s => s.Verdict == Verdict.InControl ? 1.0 : 0),
                onLimit.Average(s => s.Verdict == Verdict.OutOfControl ? 1.0 : 0),
                .. keys.Select(k => Share(held, key => key == k)),
            ];
        });
        return new Readings(tallies, keys);
    }

    private static List<Said> Said(ReadingStory bench, Cells deviation, Dice dice)
    {
        var desk = new Desk(bench.House(dice, deviation));
        return [.. VerdictsSaid.Of(desk, bench.Before).Where(s => s.Key != "spread")];
    }

    private static double Share(List<(string Key, bool Holds)> held, Func<string, bool> which) =>
        held.Where(h => which(h.Key)).Average(h => h.Holds ? 1.0 : 0);
}
