using static Acquire.Analysis.Causes.ColourNegativeRow;

namespace Acquire.Analysis.Causes;

/// <summary>What the baths after the developer leave behind.</summary>
internal static class BleachAndFix
{
    public static ImmutableArray<FaultSignature> All { get; } =
    [
        Row("retained-silver", "retained silver: bleach weak, cold, diluted or short of air",
            All(0.005), All(0.020), All(0.055),
            DirectionConfidence.High, FaultOnset.DriftWithUse, "Bleach the strip again in a bleach known to be good and read it again.",
            dmax: All(0.160), yellow: All(0.040)),
        Row("leuco-cyan", "leuco-cyan: the cyan dye has not formed fully",
            None, Rgb(-0.010, 0, 0), Rgb(-0.070, 0, 0),
            DirectionConfidence.High, FaultOnset.DriftWithUse, "Bleach the strip again in a bleach known to be good: red comes up.",
            dmax: Rgb(-0.130, 0, 0), yellow: None),
        Row("bleach-fix-used-up", "bleach-fix used up",
            All(0.012), Rgb(0.010, 0.018, 0.018), Rgb(0.015, 0.045, 0.045),
            DirectionConfidence.Medium, FaultOnset.DriftWithUse, "Treat the strip again in fresh bleach and fixer.",
            dmax: Rgb(0.060, 0.110, 0.120), yellow: All(0.030)),
        Row("fixer-exhausted", "fixer exhausted: retained silver halide",
            Rgb(0.045, 0.055, 0.085), Rgb(0.045, 0.052, 0.080), All(-0.005),
            DirectionConfidence.High, FaultOnset.DriftWithUse, "Look for milkiness; fix the strip again and read it again.",
            dmax: Rgb(0.035, 0.045, 0.080), yellow: Rgb(0.040, 0.050, 0.060)),
        Row("sensitising-dye", "retained sensitising dye: fixed or washed too short",
            Rgb(0.015, 0.028, 0.003), Rgb(0.015, 0.025, 0.003), None,
            DirectionConfidence.Medium, FaultOnset.Jump, "Look for a pink tint; wash the strip again and read it again."),
        Row("poor-wash", "poor wash or carry-over: stain",
            Rgb(0.005, 0.018, 0.025), Rgb(0.005, 0.017, 0.022), None,
            DirectionConfidence.Medium, FaultOnset.Jump, "Look for streaks; wash the strip again and read it again."),
        Row("final-rinse-missing", "final rinse missing",
            None, None, None,
            DirectionConfidence.High, FaultOnset.Constant, "No density shows it; the dyes fade within years."),
    ];
}
