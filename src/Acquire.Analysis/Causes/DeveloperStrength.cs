using static Acquire.Analysis.Causes.ColourNegativeRow;

namespace Acquire.Analysis.Causes;

/// <summary>Too much or too little development: temperature, time, agitation.</summary>
internal static class DeveloperStrength
{
    public static ImmutableArray<FaultSignature> All { get; } =
    [
        Row("developer-hot", "developer about 2 °C too hot",
            Rgb(0.005, 0.005, 0.012), Rgb(0.045, 0.050, 0.050), Rgb(0.060, 0.070, 0.070),
            DirectionConfidence.High, FaultOnset.Jump, "Check the developer's temperature with a second thermometer, in the tank, at start and end."),
        Row("developer-cold", "developer about 2 °C too cold",
            Rgb(0, 0, -0.012), Rgb(-0.060, -0.055, -0.050), Rgb(-0.090, -0.070, -0.065),
            DirectionConfidence.High, FaultOnset.Jump, "Check the temperature in the tank at the end of the run: was the tank warmed beforehand?"),
        Row("over-time", "developed about 30 s too long",
            Rgb(0, 0, 0.010), All(0.035), Rgb(0.065, 0.070, 0.070),
            DirectionConfidence.High, FaultOnset.Jump, "Check the timer, and whether the time of pouring was counted."),
        Row("under-time", "developed about 30 s too short",
            None, All(-0.035), Rgb(-0.075, -0.065, -0.065),
            DirectionConfidence.High, FaultOnset.Jump, "Check the timer, and whether the time of pouring was counted."),
        Row("agitation-low", "too little agitation",
            None, Rgb(-0.025, -0.020, -0.020), Rgb(-0.080, -0.055, -0.050),
            DirectionConfidence.High, FaultOnset.Constant, "Look for streaks at the perforations and uneven patches."),
        Row("agitation-high", "too much agitation",
            Rgb(0.004, 0.004, 0.008), All(0.022), Rgb(0.045, 0.040, 0.040),
            DirectionConfidence.Medium, FaultOnset.Constant, "Look for a change of method: inversion to rotation at the same time?"),
    ];
}
