using static Acquire.Analysis.Causes.ColourNegativeRow;

namespace Acquire.Analysis.Causes;

/// <summary>Faults of the strips and of the instrument, which look like a process out of control.</summary>
internal static class StripsAndInstrument
{
    public static ImmutableArray<FaultSignature> All { get; } =
    [
        Row("strip-light-fog", "strip fogged by light",
            All(0.080), All(0.050), All(-0.060),
            DirectionConfidence.High, FaultOnset.Jump, "Run a second strip: it is fine when only this one was fogged.",
            FaultOrigin.Strips, dmax: None, yellow: Rgb(0.070, 0.060, 0)),
        Row("strip-age-fog", "strips fogged by age, heat or X-rays",
            Rgb(0.035, 0.040, 0.045), Rgb(-0.008, -0.008, -0.008), All(-0.020),
            DirectionConfidence.High, FaultOnset.DriftWithDays, "Run a strip of another box of the same code number.",
            FaultOrigin.Strips),
        Row("latent-image-loss", "old strips: loss of the latent image",
            All(0.015), All(-0.065), All(-0.010),
            DirectionConfidence.High, FaultOnset.DriftWithDays, "Run a strip of a new box beside it.",
            FaultOrigin.Strips),
        Row("zero-low", "instrument zeroed on a dirty aperture",
            All(-0.025), All(-0.025), None,
            DirectionConfidence.High, FaultOnset.Jump, "Clean the aperture, set the zero and read the strip again.",
            FaultOrigin.Instrument, yellow: All(-0.025)),
        Row("zero-high", "aperture dirty since the zero was set",
            All(0.025), All(0.025), None,
            DirectionConfidence.High, FaultOnset.Jump, "Clean the aperture, set the zero and read the strip again.",
            FaultOrigin.Instrument, yellow: All(0.025)),
        Row("slope-low", "the instrument's slope is too low",
            Rgb(-0.008, -0.019, -0.024), Rgb(-0.014, -0.025, -0.031), Rgb(-0.024, -0.027, -0.029),
            DirectionConfidence.High, FaultOnset.Jump, "Read the plaque: its dark patch is off.",
            FaultOrigin.Instrument, dmax: Rgb(-0.064, -0.077, -0.088), yellow: Rgb(-0.011, -0.026, -0.082)),
        Row("slope-high", "the instrument's slope is too high",
            Rgb(0.008, 0.019, 0.024), Rgb(0.014, 0.025, 0.031), Rgb(0.024, 0.027, 0.029),
            DirectionConfidence.High, FaultOnset.Jump, "Read the plaque: its dark patch is off.",
            FaultOrigin.Instrument, dmax: Rgb(0.064, 0.077, 0.088), yellow: Rgb(0.011, 0.026, 0.082)),
        Row("stray-light", "stray light on the head, or an ageing lamp",
            None, None, Rgb(-0.006, -0.015, -0.025),
            DirectionConfidence.Medium, FaultOnset.DriftWithDays, "Shade the head and read the darkest patch again.",
            FaultOrigin.Instrument, dmax: Rgb(-0.035, -0.080, -0.150), yellow: Rgb(0, 0, -0.110)),
    ];
}
