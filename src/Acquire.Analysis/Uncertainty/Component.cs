namespace Acquire.Analysis.Uncertainty;

/// <summary>One cause of doubt in a result, and what it contributes.</summary>
/// <param name="Name">What it is, for the user.</param>
/// <param name="Contribution">Its standard uncertainty times its sensitivity, in the result's unit; the sign is that of the sensitivity.</param>
/// <param name="DegreesOfFreedom">How well the standard uncertainty is known; infinite when it is taken as given.</param>
public sealed record Component(string Name, double Contribution, double DegreesOfFreedom = double.PositiveInfinity);
