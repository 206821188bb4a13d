using static Acquire.Analysis.Causes.ColourNegativeRow;

namespace Acquire.Analysis.Causes;

/// <summary>Something in the developer that does not belong there.</summary>
internal static class Contamination
{
    public static ImmutableArray<FaultSignature> All { get; } =
    [
        Row("bleach-in-developer", "bleach in the developer",
            Rgb(0.050, 0.055, 0.080), Rgb(0.040, 0.045, 0.060), Rgb(0.020, 0.020, 0.025),
            DirectionConfidence.Medium, FaultOnset.Jump, "Look at the smell and colour of the developer; was anything rinsed carelessly?"),
        Row("fixer-in-developer", "fixer in the developer",
            Rgb(0.060, 0.080, 0.110), Rgb(0.060, 0.070, 0.080), Rgb(0.020, 0.025, 0.025),
            DirectionConfidence.Medium, FaultOnset.Jump, "D-min stays high until the developer is replaced: run a strip in a fresh mix."),
        Row("acid-in-developer", "stop bath or acid in the developer",
            None, All(-0.065), All(-0.070),
            DirectionConfidence.High, FaultOnset.Jump, "Check the pH."),
    ];
}
