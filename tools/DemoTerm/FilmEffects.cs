using Acquire.Instruments.Simulation;

namespace DemoTerm;

/// <summary>Something wrong with the process or a strip, of a size.</summary>
/// <param name="Story">The story whose effects it has.</param>
/// <param name="Size">How strongly; 1 as in the story.</param>
internal sealed record Trouble(FilmStory Story, double Size = 1)
{
    /// <summary>One of the faults of a process.</summary>
    public static Trouble Of(string fault, double size = 1) => new(FaultStories.All.Single(s => s.Name == fault), size);
}

/// <summary>
/// What bottles do to a strip. It follows from the state of the bottles in the books, so that the readings obey them: the developer ages by
/// the day, the faster the more air is above it, and weakens by the film; a bleach that had much film leaves silver. Plausible recipes;
/// common practice, no source.
/// </summary>
internal static class FilmEffects
{
    /// <summary>Headspace from which developer ages at its fastest, as a share of the container.</summary>
    private const double HalfFull = 0.5;

    /// <summary>
    /// Film per litre up to which a bleach is as new, and that which then makes it leave the silver of the story; in m²/L.
    /// </summary>
    private const double FreshBleach = 0.35, DyingBleach = 0.75;

    /// <summary>Share of the story of an exhausted developer that one m²/L makes.</summary>
    private const double Exhaustion = 0.25;

    /// <summary>The story of a strip that runs now.</summary>
    public static FilmStory Of(HistoryLot lot, BottleState developer, BottleState bleach, Trouble? trouble)
    {
        var days = developer.Age?.TotalDays ?? 0;
        var air = Math.Min((1 - (developer.FillShare ?? 1)) / HalfFull, 1);
        var silver = Math.Max(0, ((bleach.AreaPerLitre ?? 0) - FreshBleach) / DyingBleach);
        var exhausted = Trouble.Of("exhausted", Exhaustion * (developer.AreaPerLitre ?? 0));
        return FilmStories.OnAim with
        {
            Patches = [.. FilmStories.OnAim.Patches.Select((p, i) => p with { OnAim = lot.OnAim(p.Patch.Key), Effect = Effect(i) })],
        };

        Rgb Effect(int patch) =>
            (days * (1 - air) * FilmStories.FullBottles.Patches[patch].EffectPerDay)
            + (days * air * FilmStories.HalfFullBottle.Patches[patch].EffectPerDay)
            + (silver * FilmStories.BleachDying.AgeInDays * FilmStories.BleachDying.Patches[patch].EffectPerDay)
            + (exhausted.Size * exhausted.Story.Patches[patch].Effect)
            + (trouble is null ? default : trouble.Size * trouble.Story.Patches[patch].Effect);
    }
}
