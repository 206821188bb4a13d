using Acquire.Analysis.Gauge;
using Acquire.Analysis.Plausibility;
using Acquire.Formats.ProcessSheets;
using Acquire.Instruments.Simulation;

namespace PlausibilityBenchmark;

/// <summary>A lot of strips, an instrument, and the check that watches over them. Many strips share one, as they do in a lab.</summary>
/// <param name="Check">The check.</param>
/// <param name="OnAim">The true densities of the lot's strips on aim.</param>
/// <param name="OtherOnAim">Those of a lot that the check knows as another one.</param>
/// <param name="StrangeOnAim">Those of a lot that it does not know.</param>
/// <param name="Noise">The scatter.</param>
/// <param name="Decimals">Decimals that the instrument shows.</param>
internal sealed record Bench(
    PlausibilityCheck Check, ImmutableDictionary<string, Rgb> OnAim, ImmutableDictionary<string, Rgb> OtherOnAim,
    ImmutableDictionary<string, Rgb> StrangeOnAim, FilmNoise Noise, int Decimals)
{
    public const int ReferenceReads = 6;

    // From lot to lot, patch by patch and colour by colour.
    private const double BetweenLots = 0.03;

    public static ProcessSheet Sheet { get; } = ShippedSheets.Get("c41");

    public static Bench Make(double repeatability, int seed, int number)
    {
        var chance = new SeededChance(seed, -1 - number);
        var (own, other, third, strange) = (Lot(chance), Lot(chance), Lot(chance), Lot(chance));
        var knowledge = new StripKnowledge(Sheet, Sheet.Layout)
        {
            Aims = Aims(own, repeatability, chance),
            OtherLots = [
                new OtherLot("1207", Aims(other, repeatability, chance)), new OtherLot("1188", Aims(third, repeatability, chance))],
            Instrument = InstrumentKnowledge.Of("bench", Channels.Colours.Select(c => new PatchRepeats(c, null, repeatability, 27))),
            Settings = new PlausibilitySettings(),
        };
        var each = repeatability / Math.Sqrt(2);
        return new Bench(
            new PlausibilityCheck(knowledge), own, other, strange, new FilmNoise { Placement = each, Reading = each }, 2 + (number % 2));
    }

    private static ImmutableDictionary<string, Rgb> Lot(SeededChance chance) => DemoFilm.Patches.ToImmutableDictionary(
        p => p.Key,
        p => DemoFilm.Aims[p.Key] + new Rgb(chance.Next(BetweenLots), chance.Next(BetweenLots), chance.Next(BetweenLots)));

    private static ImmutableArray<Aim> Aims(ImmutableDictionary<string, Rgb> onAim, double repeatability, SeededChance chance)
    {
        var uncertainty = repeatability / Math.Sqrt(ReferenceReads);
        return
        [
            .. from patch in Sheet.Layout.Patches
               from channel in Channels.Colours
               select new Aim(patch.Key, channel, onAim[patch.Key][channel] + chance.Next(uncertainty), 0, uncertainty),
        ];
    }
}
