using Acquire.Analysis.Causes;

namespace Acquire.Bench.Causes;

/// <summary>A strip with everything that store and books add to it.</summary>
/// <param name="Asked">The record that was asked for.</param>
/// <param name="Strip">
/// The record that is weighed: for a strip that was treated and read again the one before, as that is what the process made.
/// </param>
/// <param name="Context">What history and books add.</param>
/// <param name="Tests">What treating the strip again told of faults.</param>
/// <param name="StripsBefore">How many strips of its line and process the history has before it.</param>
public sealed record CauseCase(
    StripRecord Asked, StripRecord Strip, CauseContext Context, ImmutableArray<TreatmentTest> Tests, int StripsBefore);
