using TruthBenchmark.World;

namespace TruthBenchmark.Claims.Verdicts;

/// <summary>What an interval and a verdict on one strip are worth to somebody who reads once.</summary>
internal sealed class VerdictClaims : IClaims
{
    private static readonly Band Coverage = Band.Between(0.93, 0.98);

    public string Name => "verdicts";

    public IEnumerable<Claim> Of(Run run) => NeverTested(run).Concat(Zeros(run)).Concat(Dense(run)).Concat(References(run))
        .Concat(WholeStrips.Of(run)).Concat(Spreads.Of(run));

    /// <summary>One read of strip and reference, and nothing known of the instrument.</summary>
    private static IEnumerable<Claim> NeverTested(Run run)
    {
        var draws = run.Draws(3000, 250);
        foreach (var decimals in new[] { 2, 3 })
        {
            foreach (var scatter in new[] { 0.003, 0.006, 0.010, 0.015 })
            {
                var found = Readings.Of(
                    draws, run.Seed, _ => new ReadingStory(Densitometer.Even(scatter, decimals), AimStory.ReadOnce));
                var what = FormattableString.Invariant(
                    $"never tested, read once, s {scatter:0.000}, display {(decimals == 2 ? "0.01" : "0.001")}");
                // One width for whoever knows nothing must be right for the coarser of them and so too wide for the finer.
                var held = scatter switch { 0.010 => Coverage, < 0.010 => Band.AtLeast(0.93), _ => Band.Shown };
                var wrong = Band.AtMost(scatter > 0.010 ? 0.08 : 0.05);
                yield return found.Held().Claim($"v2-{decimals}-{scatter * 1000:0}-held", $"{what}: ±U holds", held);
                yield return found.In.Claim($"v2-{decimals}-{scatter * 1000:0}-in", $"{what}: on the limit, called in", wrong);
                yield return found.Out.Claim($"v2-{decimals}-{scatter * 1000:0}-out", $"{what}: on the limit, called out", wrong);
            }
        }

        var mixed = Readings.Of(
            draws, run.Seed, d => new ReadingStory(Densitometer.Even(d.Between(0.003, 0.010), 2 + d.Below(2)), AimStory.ReadOnce));
        yield return mixed.Held().Claim(
            "v2-mixed", "never tested, read once, instruments of s 0.003 to 0.010 alike: ±U holds", Band.Between(0.93, 0.99));
        foreach (var scatter in new[] { 0.003, 0.006, 0.010 })
        {
            var learnt =
                Readings.Of(draws, run.Seed, _ => new ReadingStory(Densitometer.Even(scatter), new AimStory(Origin.Instrument, 4)));
            yield return learnt.Held().Claim(
                $"v2-learnt-{scatter * 1000:0}",
                FormattableString.Invariant($"never tested, reference read four times, strip once, s {scatter:0.000}: ±U holds"),
                Coverage);
        }
    }

    /// <summary>The zero is set anew between reference and strip.</summary>
    private static IEnumerable<Claim> Zeros(Run run)
    {
        var draws = run.Draws(3000, 250);
        foreach (var moves in new[] { 0.010, 0.020 })
        {
            var instrument = Densitometer.Even(0.006) with { ZeroMoves = moves };
            var aim = moves > 0.010 ? Band.Shown : Coverage;
            var what = FormattableString.Invariant($"zero set anew, ±{moves:0.000}, no check");
            var found = Readings.Of(draws, run.Seed + 1, _ => new ReadingStory(instrument, AimStory.ReadOnce) { Tested = true });
            foreach (var key in new[] { "dmin", "ld", "contrast" })
            {
                yield return found.Held(key).Claim($"v3-{moves * 1000:0}-{key}", $"{what}: ±U of {key} holds", aim);
            }

            var history = Readings.Of(
                run.Draws(800, 60), run.Seed + 2, _ => new ReadingStory(instrument, AimStory.ReadOnce) { Tested = true, Before = 20 });
            foreach (var key in new[] { "dmin", "ld" })
            {
                yield return history.Held(key).Claim(
                    $"v3-{moves * 1000:0}-{key}-history", $"{what}, twenty strips before: ±U of {key} holds", Coverage);
            }
        }

        var sitting = Readings.Of(draws, run.Seed + 3, _ => new ReadingStory(
            Densitometer.Even(0.006) with { ZeroMoves = 0.02 }, AimStory.ReadOnce) { Tested = true, OneSitting = true });
        yield return sitting.Held("ld").Claim(
            "v3-sitting", "zero set anew, ±0.020, reference and strip in one sitting: ±U of ld holds", Coverage);
    }

    /// <summary>How far the zero of a bench moves whenever it is set anew, as it always is between reference and strip.</summary>
    private const double SetAnew = 0.010;

    /// <summary>Scatter that grows with density.</summary>
    private static IEnumerable<Claim> Dense(Run run)
    {
        var found = Readings.Of(run.Draws(3000, 300), run.Seed + 4, _ => new ReadingStory(
            new Densitometer(0.0035, 0.0155, 2) { ZeroMoves = SetAnew }, AimStory.ReadOnce) { Tested = true });
        foreach (var key in new[] { "dmin", "ld", "contrast", "silver" })
        {
            yield return found.Held(key).Claim(
                $"v4-{key}", $"s 0.004 at D-min, 0.015 at D-max, tested, zero set anew: ±U of {key} holds", Band.Between(0.93, 0.97));
        }
    }

    /// <summary>References that were typed.</summary>
    private static IEnumerable<Claim> References(Run run)
    {
        var draws = run.Draws(3000, 300);
        foreach (var reads in new[] { 1, 3 })
        {
            var found = Readings.Of(
                draws, run.Seed + 5,
                _ => new ReadingStory(Densitometer.Even(0.008) with { ZeroMoves = SetAnew }, AimStory.Typed(reads)) { Tested = true });
            yield return found.Held().Claim(
                $"v5-typed-{reads}",
                $"tested, zero set anew, reference typed from {reads} {(reads == 1 ? "read" : "reads")} each: ±U holds",
                Band.Between(0.94, 0.96));
        }

        var list = Readings.Of(
            draws, run.Seed + 6,
            _ => new ReadingStory(Densitometer.Even(0.006) with { ZeroMoves = SetAnew }, AimStory.List(0.012)) { Tested = true });
        yield return list.Held().Claim(
            "v5-list", "tested, zero set anew, aims from the maker's list with its own ±0.012: ±U holds", Band.Between(0.94, 0.96));
    }
}
