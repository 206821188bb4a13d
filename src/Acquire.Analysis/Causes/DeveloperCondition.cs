using static Acquire.Analysis.Causes.ColourNegativeRow;

namespace Acquire.Analysis.Causes;

/// <summary>A developer that is used up, aged or not as mixed.</summary>
internal static class DeveloperCondition
{
    public static ImmutableArray<FaultSignature> All { get; } =
    [
        Row("developer-exhausted", "developer exhausted by use",
            Rgb(-0.005, -0.004, -0.004), Rgb(-0.065, -0.055, -0.055), Rgb(-0.085, -0.060, -0.060),
            DirectionConfidence.High, FaultOnset.DriftWithUse, "Count the rolls and their area since the mix or since replenishing."),
        Row("developer-oxidised", "developer oxidised by air",
            Rgb(0, 0.003, 0.018), All(-0.030), Rgb(-0.075, -0.055, -0.075),
            DirectionConfidence.High, FaultOnset.DriftWithDays, "Look at the colour of the developer, the air in its bottle and the days since it was opened."),
        Row("developer-concentrated", "developer too concentrated or evaporated",
            Rgb(0.012, 0.014, 0.016), All(0.045), Rgb(0.075, 0.075, 0.080),
            DirectionConfidence.High, FaultOnset.DriftWithDays, "Check the level and the specific gravity."),
        Row("developer-diluted", "developer diluted too far",
            None, All(-0.020), Rgb(-0.075, -0.070, -0.070),
            DirectionConfidence.High, FaultOnset.Jump, "Check the specific gravity and the record of the mix."),
        Row("over-replenished", "over-replenished",
            Rgb(0.010, 0.012, 0.014), All(0.065), All(0.060),
            DirectionConfidence.High, FaultOnset.DriftWithUse, "Check the replenishment rate against the film that went through."),
        Row("under-replenished", "under-replenished",
            None, All(-0.065), All(-0.060),
            DirectionConfidence.High, FaultOnset.DriftWithUse, "Check the replenishment rate against the film that went through."),
        Row("developer-ph-high", "developer pH too high",
            Rgb(0.015, 0.015, 0.018), All(0.020), Rgb(0.080, 0.055, 0.050),
            DirectionConfidence.Medium, FaultOnset.Jump, "Check the pH with a meter that was just calibrated."),
        Row("developer-ph-low", "developer pH too low",
            None, All(-0.020), Rgb(-0.085, -0.055, -0.050),
            DirectionConfidence.Medium, FaultOnset.DriftWithDays, "Check the pH with a meter that was just calibrated."),
    ];
}
