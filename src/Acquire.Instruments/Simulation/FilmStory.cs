namespace Acquire.Instruments.Simulation;

/// <summary>What is true of simulated strips: the densities on aim, what the process does to them, and how all scatters. Pure.</summary>
/// <param name="Name">The short word used in commands, such as <c>on-aim</c>.</param>
/// <param name="Title">What has happened, in a few words.</param>
/// <param name="Patches">The patches in reading order.</param>
/// <param name="AgeInDays">How old the solution is when the first strip is processed.</param>
/// <param name="DaysPerStrip">How much older it is at each further strip.</param>
/// <param name="Noise">How it scatters.</param>
public sealed record FilmStory(
    string Name,
    string Title,
    ImmutableArray<FilmPatch> Patches,
    double AgeInDays,
    double DaysPerStrip,
    FilmNoise Noise)
{
    /// <summary>The strip's layout.</summary>
    public StripLayout Layout => new("Colour-negative control strip (simulated)", [.. Patches.Select(p => p.Patch)]);

    /// <summary>The true densities of one strip: the same seed and number give the same strip.</summary>
    /// <param name="seed">Any number.</param>
    /// <param name="index">Number of the strip, from 0.</param>
    public FilmStrip Strip(int seed, int index)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(index);
        var age = AgeInDays + (index * DaysPerStrip);
        var run = new SeededChance(seed, index).Next(Noise.Run);
        return new FilmStrip(
            Patches.ToImmutableDictionary(
                p => p.Patch.Key,
                p => p.OnAim + p.Effect + (age * p.EffectPerDay) + Rgb.All(p.RunWeight * run),
                StringComparer.OrdinalIgnoreCase),
            Noise);
    }
}
