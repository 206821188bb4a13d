namespace Acquire.Instruments.Simulation;

/// <summary>One patch of a simulated strip, and what the process does to it.</summary>
/// <param name="Patch">The patch.</param>
/// <param name="OnAim">Its densities when the process is on aim.</param>
/// <param name="Effect">What the state of the process adds.</param>
/// <param name="EffectPerDay">What each day of age adds to that.</param>
/// <param name="RunWeight">How strongly the run-to-run scatter moves it: 1 at LD.</param>
public sealed record FilmPatch(Patch Patch, Rgb OnAim, Rgb Effect, Rgb EffectPerDay, double RunWeight);
