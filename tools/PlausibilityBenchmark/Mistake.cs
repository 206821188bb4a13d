using Acquire.Analysis.Plausibility;
using Acquire.Instruments.Simulation;

namespace PlausibilityBenchmark;

/// <summary>A mistake of the person or the instrument.</summary>
/// <param name="Name">What it is called in the tables.</param>
/// <param name="RightNames">What it may be called by the question.</param>
/// <param name="Make">Draws one: what the reads become.</param>
internal sealed record Mistake(string Name, ImmutableArray<SuspicionKind> RightNames, Func<Random, Tampering> Make)
{
    /// <summary>Whether the strip is looked at once all is read, as when it comes from a file; else after every read.</summary>
    public bool AtEnd { get; init; }
}

/// <summary>What a mistake does to reads. Slots and reads count from 0.</summary>
internal sealed record Tampering
{
    /// <summary>The slot that is truly read.</summary>
    public Func<int, int> Source { get; init; } = slot => slot;

    /// <summary>What the instrument shows for a read: its slot, number, seconds
    /// since the first, the densities, and a visual density.</summary>
    public Func<Shown, Rgb> Show { get; init; } = shown => shown.Rgb;

    /// <summary>A read that comes at once after the one before with the same values.</summary>
    public (int Slot, int Read)? Echo { get; init; }

    /// <summary>Which lot the strip is of.</summary>
    public Func<Bench, ImmutableDictionary<string, Rgb>> Lot { get; init; } = bench => bench.OnAim;
}

/// <summary>A read before it is tampered with.</summary>
internal readonly record struct Shown(int Slot, int Read, double Seconds, Rgb Rgb, FilmStrip Strip);
