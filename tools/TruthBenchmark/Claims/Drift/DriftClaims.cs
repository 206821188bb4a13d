using TruthBenchmark.Product;
using TruthBenchmark.World;

namespace TruthBenchmark.Claims.Drift;

/// <summary>
/// What is told of histories in which nothing happened. The promise is one for the whole process: eleven series, all its strips.
/// </summary>
internal sealed class DriftClaims : IClaims
{
    // Where a user looks: what is told on any of these days was told.
    private const int LooksEvery = 15;

    private const int Longest = 60;

    public string Name => "drift";

    public IEnumerable<Claim> Of(Run run) => Clean(run).Concat(NewLot(run)).Concat(Beginnings.Of(run)).Concat(Delays.Of(run));

    public static Process Usual(double memory) => new(0.010, memory);

    /// <summary>Whether anything is told, on any day on which the user looks.</summary>
    public static bool Tells(Desk desk)
    {
        var count = desk.House.Strips.Length;
        return Enumerable.Range(1, count / LooksEvery).Select(k => k * LooksEvery).Append(count).Distinct()
            .Any(n => !DriftSaid.Of(desk, n).Moved.IsEmpty);
    }

    private static IEnumerable<Claim> Clean(Run run)
    {
        foreach (var memory in new[] { 0, 0.6 })
        {
            foreach (var strips in new[] { 15, 30, Longest })
            {
                var found = Tally.Of(run.Draws(1500, 60), i =>
                {
                    var desk = new Desk(new HistoryStory(strips, Usual(memory)).House(new Dice(run.Seed + 20, i)), history: true);
                    return [Tells(desk) ? 1 : 0, strips == Longest && DriftSaid.Of(desk).Resembles ? 1 : 0];
                });
                var what = FormattableString.Invariant($"{strips} strips in order, {(memory > 0 ? "memory 0.6" : "no memory")}");
                yield return found[0].Claim($"d7-clean-{strips}-{memory * 10:0}", $"{what}: a movement is told", Band.AtMost(0.05));
                if (strips == Longest)
                {
                    yield return found[1].Claim(
                        $"d7-memory-{memory * 10:0}", $"{what}: strips are said to resemble the one before",
                        memory > 0 ? Band.AtLeast(0.80) : Band.AtMost(0.05));
                }
            }
        }
    }

    private static IEnumerable<Claim> NewLot(Run run)
    {
        var found = Tally.Of(run.Draws(1500, 60), i =>
        {
            var house = new HistoryStory(40, Usual(0)) { NewLotFrom = 20, Aims = AimStory.List(0.015) }.House(new Dice(run.Seed + 21, i));
            var desk = new Desk(house, history: true);
            return [Tells(desk) ? 1 : 0, DriftSaid.Of(desk).Resembles ? 1 : 0];
        });
        yield return found[0].Claim("d7-lot-told", "new lot after 20 of 40, its aims ±0.015: a movement is told", Band.AtMost(0.05));
        yield return found[1].Claim("d7-lot-resembles", "new lot after 20 of 40: said to be resemblance", Band.AtMost(0.05));
    }
}
