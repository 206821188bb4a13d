using Acquire.Analysis.Plausibility;
using Acquire.Instruments.Simulation;

namespace PlausibilityBenchmark;

/// <summary>What was asked about one strip.</summary>
/// <param name="Asked">The first question; null when none was asked.</param>
/// <param name="Leading">The likeliest mistake once all is read, decisive or not; null when a question came before.</param>
internal sealed record TrialResult(Suspicion? Asked, Suspicion? Leading);

/// <summary>Reads one strip as a person would, with a mistake or without, and listens for the first question.</summary>
internal static class Trial
{
    public const int Reads = 3;
    private const double SecondsPerRead = 5;
    private const double SecondsPerPatch = 3;

    public static TrialResult Run(Bench bench, FilmStrip strip, Tampering tampering, bool atEnd, Random random)
    {
        var patches = DemoFilm.Patches.Select(PatchReads.None).ToArray();
        var chance = new SeededChance(random.Next(), 0);
        var at = DateTimeOffset.UnixEpoch;
        Reading? before = null;
        for (var slot = 0; slot < patches.Length; slot++)
        {
            at = at.AddSeconds(SecondsPerPatch);
            for (var read = 0; read < Reads; read++)
            {
                var echo = tampering.Echo == (slot, read);
                at = at.AddSeconds(echo
                    ? Draw.Between(random, 0.1, 0.8) - (read == 0 ? SecondsPerPatch : 0)
                    : SecondsPerRead * Draw.Between(random, 0.7, 1.5));
                var densities = echo ? before!.Densities : Show(slot, read);
                before = new Reading(densities, at, [RawLine.OfText(densities.ToString(), at)]);
                patches[slot] = patches[slot] with { Reads = patches[slot].Reads.Add(new PatchRead(before)) };
                if (!atEnd && bench.Check.QuestionAfterRead([.. patches]) is { } asked)
                {
                    return new TrialResult(asked, null);
                }
            }
        }

        var ranked = bench.Check.RankWhenComplete([.. patches]);
        return new TrialResult(ranked.FirstOrDefault(bench.Check.IsDecisive), ranked.FirstOrDefault());

        ChannelDensities Show(int slot, int read)
        {
            var source = DemoFilm.Patches[tampering.Source(slot)].Key;
            var taken = strip.Read(source, chance, Density.MostDecimals);
            var shown = tampering.Show(new Shown(
                slot, read, (at - DateTimeOffset.UnixEpoch).TotalSeconds, new Rgb(D(taken.Red), D(taken.Green), D(taken.Blue)), strip));
            return ChannelDensities.Rgb(Rounded(shown.Red), Rounded(shown.Green), Rounded(shown.Blue));
        }

        decimal Rounded(double density) => decimal.Parse(
            Math.Round(Math.Max(density, (double)Density.Least), bench.Decimals, MidpointRounding.AwayFromZero).ToString(
                $"F{bench.Decimals}", CultureInfo.InvariantCulture),
            CultureInfo.InvariantCulture);

        static double D(Density? density) => density!.Value.ToDouble();
    }
}
