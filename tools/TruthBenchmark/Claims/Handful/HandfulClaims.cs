using TruthBenchmark.Product;
using TruthBenchmark.World;

namespace TruthBenchmark.Claims.Handful;

/// <summary>
/// Histories of three to nine strips, read once, with a reference that was typed, taken the whole way: import, life, causes, daily, report.
/// </summary>
internal sealed class HandfulClaims : IClaims
{
    private static readonly ImmutableArray<string> Asked = ["life", "causes", "daily", "report"];

    public string Name => "handful";

    public IEnumerable<Claim> Of(Run run)
    {
        var draws = run.Draws(60, 3);
        foreach (var strips in Enumerable.Range(3, 7))
        {
            var found = Tally.Of(draws, i => Draw(strips, new Dice(run.Seed + 110, strips, i)).GetAwaiter().GetResult());
            for (var k = 0; k < Asked.Length; k++)
            {
                yield return found[k].Claim(
                    $"h-{strips}-{Asked[k]}",
                    $"{strips} strips read once, reference typed: {Asked[k]} ends with a fault of the program", Band.Never);
            }

            yield return found[4].Claim(
                $"h-{strips}-beyond", $"{strips} strips read once: a life is promised beyond the oldest strip, without an if", Band.Never);
            yield return found[5].Claim(
                $"h-{strips}-same", $"{strips} strips read once: the store says of the last what the short way here does not", Band.Never);
        }
    }

    private static async Task<double[]> Draw(int strips, Dice dice)
    {
        ImmutableArray<double> days = [.. Enumerable.Range(0, strips).Select(i => 1 + (26.0 * i / (strips - 1)))];
        var ageing = dice.Pick<Ageing>([Ageing.None, Ageing.Straight(35), Ageing.Hinge, Ageing.Plateau]);
        // As many instruments of its kind: quiet, and shown in hundredths, so that a patch reads the same on every strip.
        var house = new AgeingStory(ageing, 1, days)
        {
            Aims = AimStory.Typed(1),
            Between = 0,
            Instrument = Densitometer.Even(dice.Between(0.002, 0.006)),
        }.House(dice);
        await using var stored = await StoredHouse.OfAsync(house, CancellationToken.None);
        LifeSaid? life = null;
        double[] faults =
        [
            await Faults(async () => life = await stored.LifeAsync(CancellationToken.None)),
            await Faults(() => stored.CausesAsync(CancellationToken.None)),
            await Faults(() => stored.DailyAsync(CancellationToken.None)),
            await Faults(() => stored.ReportAsync(CancellationToken.None)),
        ];
        var said = await stored.VerdictsAsync(CancellationToken.None);
        var here = VerdictsSaid.Of(new Desk(house, ofTable: true), strips - 1);
        return [
            .. faults,
            life is null ? double.NaN : life.PromisesBeyond(days[^1] + 1) ? 1 : 0,
            said.Length == here.Length && said.Zip(here).All(p => p.First.IsAs(p.Second)) ? 0 : 1];
    }

    // Any fault but those that speak to the user is one of the program.
    private static async Task<double> Faults(Func<Task> work)
    {
        try
        {
            await work();
            return 0;
        }
        catch (Exception fault) when (fault is ArgumentException or InvalidOperationException or ArithmeticException)
        {
            return 1;
        }
    }
}
