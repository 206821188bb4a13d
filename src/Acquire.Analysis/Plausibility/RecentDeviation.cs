namespace Acquire.Analysis.Plausibility;

/// <summary>What the process has been doing of late, in one patch and channel.</summary>
/// <param name="PatchKey">Key of the patch.</param>
/// <param name="Channel">The channel.</param>
/// <param name="Mean">Mean of strip − aim over the last strips.</param>
/// <param name="StandardDeviation">How much it scatters from strip to strip, in density.</param>
public sealed record RecentDeviation(string PatchKey, Channel Channel, double Mean, double StandardDeviation);
