namespace Acquire.Analysis.Causes;

/// <summary>The faults of the colour negative process, a row each. The trade speaks of D-min, LD, contrast (HD − LD) and
/// retained silver (D-max B − yellow B); the patches follow from these. D-max moves as HD does, the yellow patch as
/// D-max in blue and as LD, weakly, in red and green.</summary>
internal static class ColourNegativeFaults
{
    /// <summary>Against 1 for what troubles every darkroom.</summary>
    private const double Rare = 0.5;

    public static ImmutableArray<FaultSignature> All { get; } =
    [
        // Too much or too little development: temperature, time, agitation.
        Row("developer-hot", "developer about 2 °C too hot",
            FaultFamily.DeveloperStrong, FaultOnset.Jump, DirectionConfidence.High,
            "Check the developer's temperature with a second thermometer, in the tank, at start and end.",
            dmin: Rgb(0.005, 0.005, 0.012), low: Rgb(0.045, 0.050, 0.050), contrast: Rgb(0.060, 0.070, 0.070)),
        Row("developer-cold", "developer about 2 °C too cold",
            FaultFamily.DeveloperWeak, FaultOnset.Jump, DirectionConfidence.High,
            "Check the temperature in the tank at the end of the run: was the tank warmed beforehand?",
            dmin: Rgb(0, 0, -0.012), low: Rgb(-0.060, -0.055, -0.050), contrast: Rgb(-0.090, -0.070, -0.065)),
        Row("over-time", "developed about 30 s too long",
            FaultFamily.DeveloperStrong, FaultOnset.Jump, DirectionConfidence.High,
            "Check the timer, and whether the time of pouring was counted.",
            dmin: Rgb(0, 0, 0.010), low: Same(0.035), contrast: Rgb(0.065, 0.070, 0.070)),
        Row("under-time", "developed about 30 s too short",
            FaultFamily.DeveloperWeak, FaultOnset.Jump, DirectionConfidence.High,
            "Check the timer, and whether the time of pouring was counted.",
            dmin: None, low: Same(-0.035), contrast: Rgb(-0.075, -0.065, -0.065)),
        Row("agitation-low", "too little agitation",
            FaultFamily.DeveloperWeak, FaultOnset.Constant, DirectionConfidence.High,
            "Look for streaks at the perforations and uneven patches.",
            dmin: None, low: Rgb(-0.025, -0.020, -0.020), contrast: Rgb(-0.080, -0.055, -0.050)),
        Row("agitation-high", "too much agitation",
            FaultFamily.DeveloperStrong, FaultOnset.Constant, DirectionConfidence.Medium,
            "Look for a change of method: inversion to rotation at the same time?",
            dmin: Rgb(0.004, 0.004, 0.008), low: Same(0.022), contrast: Rgb(0.045, 0.040, 0.040)),
        // A developer that is used up, aged or not as mixed.
        Row("developer-exhausted", "developer exhausted by use",
            FaultFamily.DeveloperWeak, FaultOnset.DriftWithUse, DirectionConfidence.High,
            "Count the rolls and their area since the mix or since replenishing.",
            dmin: Rgb(-0.005, -0.004, -0.004), low: Rgb(-0.065, -0.055, -0.055), contrast: Rgb(-0.085, -0.060, -0.060)),
        Row("developer-oxidised", "developer oxidised by air",
            FaultFamily.DeveloperWeak, FaultOnset.DriftWithDays, DirectionConfidence.High,
            "Look at the colour of the developer, the air in its bottle and the days since it was opened.",
            dmin: Rgb(0, 0.003, 0.018), low: Same(-0.030), contrast: Rgb(-0.075, -0.055, -0.075)) with { Occasion =
                FaultOccasion.Standing },
        Row("developer-concentrated", "developer too concentrated or evaporated",
            FaultFamily.DeveloperStrong, FaultOnset.DriftWithDays, DirectionConfidence.High, "Check the level and the specific gravity.",
            dmin: Rgb(0.012, 0.014, 0.016), low: Same(0.045), contrast: Rgb(0.075, 0.075, 0.080)) with { Occasion = FaultOccasion.NewMix },
        Row("developer-diluted", "developer diluted too far",
            FaultFamily.DeveloperWeak, FaultOnset.Jump, DirectionConfidence.High, "Check the specific gravity and the record of the mix.",
            dmin: None, low: Same(-0.020), contrast: Rgb(-0.075, -0.070, -0.070)) with { Occasion = FaultOccasion.NewMix },
        Row("over-replenished", "over-replenished",
            FaultFamily.DeveloperStrong, FaultOnset.DriftWithUse, DirectionConfidence.High,
            "Check the replenishment rate against the film that went through.",
            dmin: Rgb(0.010, 0.012, 0.014), low: Same(0.065), contrast: Same(0.060)),
        Row("under-replenished", "under-replenished",
            FaultFamily.DeveloperWeak, FaultOnset.DriftWithUse, DirectionConfidence.High,
            "Check the replenishment rate against the film that went through.",
            dmin: None, low: Same(-0.065), contrast: Same(-0.060)),
        Row("developer-ph-high", "developer pH too high",
            FaultFamily.DeveloperStrong, FaultOnset.Jump, DirectionConfidence.Medium,
            "Check the pH with a meter that was just calibrated.",
            dmin: Rgb(0.015, 0.015, 0.018), low: Same(0.020), contrast: Rgb(0.080, 0.055, 0.050)) with {
                Commonness = Rare,
                Occasion = FaultOccasion.NewMix },
        Row("developer-ph-low", "developer pH too low",
            FaultFamily.DeveloperWeak, FaultOnset.DriftWithDays, DirectionConfidence.Medium,
            "Check the pH with a meter that was just calibrated.",
            dmin: None, low: Same(-0.020), contrast: Rgb(-0.085, -0.055, -0.050)) with {
                Commonness = Rare,
                Occasion = FaultOccasion.NewMix },
        // Something in the developer that does not belong there.
        Row("bleach-in-developer", "bleach in the developer",
            FaultFamily.Contamination, FaultOnset.Jump, DirectionConfidence.Medium,
            "Look at the smell and colour of the developer; was anything rinsed carelessly?",
            dmin: Rgb(0.050, 0.055, 0.080), low: Rgb(0.040, 0.045, 0.060), contrast: Rgb(0.020, 0.020, 0.025)) with {
                Commonness = Rare,
                Occasion = FaultOccasion.NewMix },
        Row("fixer-in-developer", "fixer in the developer",
            FaultFamily.Contamination, FaultOnset.Jump, DirectionConfidence.Medium,
            "D-min stays high until the developer is replaced: run a strip in a fresh mix.",
            dmin: Rgb(0.060, 0.080, 0.110), low: Rgb(0.060, 0.070, 0.080), contrast: Rgb(0.020, 0.025, 0.025)) with { Occasion =
                FaultOccasion.NewMix },
        Row("acid-in-developer", "stop bath or acid in the developer",
            FaultFamily.DeveloperWeak, FaultOnset.Jump, DirectionConfidence.High, "Check the pH.",
            dmin: None, low: Same(-0.065), contrast: Same(-0.070)) with { Commonness = Rare },
        // What the baths after the developer leave behind.
        Row("retained-silver", "retained silver: bleach weak, cold, diluted or short of air",
            FaultFamily.RetainedSilver, FaultOnset.DriftWithUse, DirectionConfidence.High,
            "Bleach the strip again in a bleach known to be good and read it again.",
            dmin: Same(0.005), low: Same(0.020), contrast: Same(0.055),
            dmax: Same(0.160), yellow: Same(0.040)) with { Occasion = FaultOccasion.Standing, MendedBy = Treatment.ReBleach },
        Row("leuco-cyan", "leuco-cyan: the cyan dye has not formed fully",
            FaultFamily.LeucoCyan, FaultOnset.DriftWithUse, DirectionConfidence.High,
            "Bleach the strip again in a bleach known to be good: red comes up.",
            dmin: None, low: Rgb(-0.010, 0, 0), contrast: Rgb(-0.070, 0, 0),
            dmax: Rgb(-0.130, 0, 0), yellow: None) with { MendedBy = Treatment.ReBleach },
        Row("bleach-fix-used-up", "bleach-fix used up",
            FaultFamily.RetainedSilver, FaultOnset.DriftWithUse, DirectionConfidence.Medium,
            "Treat the strip again in fresh bleach and fixer.",
            dmin: Same(0.012), low: Rgb(0.010, 0.018, 0.018), contrast: Rgb(0.015, 0.045, 0.045),
            dmax: Rgb(0.060, 0.110, 0.120), yellow: Same(0.030)) with { MendedBy = Treatment.ReBleach },
        Row("fixer-exhausted", "fixer exhausted: retained silver halide",
            FaultFamily.Stain, FaultOnset.DriftWithUse, DirectionConfidence.High,
            "Look for milkiness; fix the strip again and read it again.",
            dmin: Rgb(0.045, 0.055, 0.085), low: Rgb(0.045, 0.052, 0.080), contrast: Same(-0.005),
            dmax: Rgb(0.035, 0.045, 0.080), yellow: Rgb(0.040, 0.050, 0.060)) with { MendedBy = Treatment.ReFix },
        Row("sensitising-dye", "retained sensitising dye: fixed or washed too short",
            FaultFamily.Stain, FaultOnset.Jump, DirectionConfidence.Medium,
            "Look for a pink tint; wash the strip again and read it again.",
            dmin: Rgb(0.015, 0.028, 0.003), low: Rgb(0.015, 0.025, 0.003), contrast: None) with { MendedBy = Treatment.ReWash },
        Row("poor-wash", "poor wash or carry-over: stain",
            FaultFamily.Stain, FaultOnset.Jump, DirectionConfidence.Medium, "Look for streaks; wash the strip again and read it again.",
            dmin: Rgb(0.005, 0.018, 0.025), low: Rgb(0.005, 0.017, 0.022), contrast: None) with { MendedBy = Treatment.ReWash },
        Row("final-rinse-missing", "final rinse missing",
            FaultFamily.Stain, FaultOnset.Constant, DirectionConfidence.High, "No density shows it; the dyes fade within years.",
            dmin: None, low: None, contrast: None),
        // Faults of the strips and of the instrument, which look like a process out of control.
        Row("strip-light-fog", "strip fogged by light",
            FaultFamily.Strips, FaultOnset.Jump, DirectionConfidence.High,
            "Run a second strip: it is fine when only this one was fogged.",
            dmin: Same(0.080), low: Same(0.050), contrast: Same(-0.060), dmax: None, yellow: Rgb(0.070, 0.060, 0)),
        Row("strip-age-fog", "strips fogged by age, heat or X-rays",
            FaultFamily.Strips, FaultOnset.DriftWithDays, DirectionConfidence.High, "Run a strip of another box of the same code number.",
            dmin: Rgb(0.035, 0.040, 0.045), low: Rgb(-0.008, -0.008, -0.008), contrast: Same(-0.020)),
        Row("latent-image-loss", "old strips: loss of the latent image",
            FaultFamily.Strips, FaultOnset.DriftWithDays, DirectionConfidence.High, "Run a strip of a new box beside it.",
            dmin: Same(0.015), low: Same(-0.065), contrast: Same(-0.010)),
        Row("zero-low", "instrument zeroed on a dirty aperture",
            FaultFamily.Instrument, FaultOnset.Jump, DirectionConfidence.High,
            "Clean the aperture, set the zero and read the strip again.",
            dmin: Same(-0.025), low: Same(-0.025), contrast: None, yellow: Same(-0.025)),
        Row("zero-high", "aperture dirty since the zero was set",
            FaultFamily.Instrument, FaultOnset.Jump, DirectionConfidence.High,
            "Clean the aperture, set the zero and read the strip again.",
            dmin: Same(0.025), low: Same(0.025), contrast: None, yellow: Same(0.025)),
        Row("slope-low", "the instrument's slope is too low",
            FaultFamily.Instrument, FaultOnset.Jump, DirectionConfidence.High, "Read the plaque: its dark patch is off.",
            dmin: Rgb(-0.008, -0.019, -0.024), low: Rgb(-0.014, -0.025, -0.031), contrast: Rgb(-0.024, -0.027, -0.029),
            dmax: Rgb(-0.064, -0.077, -0.088), yellow: Rgb(-0.011, -0.026, -0.082)),
        Row("slope-high", "the instrument's slope is too high",
            FaultFamily.Instrument, FaultOnset.Jump, DirectionConfidence.High, "Read the plaque: its dark patch is off.",
            dmin: Rgb(0.008, 0.019, 0.024), low: Rgb(0.014, 0.025, 0.031), contrast: Rgb(0.024, 0.027, 0.029),
            dmax: Rgb(0.064, 0.077, 0.088), yellow: Rgb(0.011, 0.026, 0.082)),
        Row("stray-light", "stray light on the head, or an ageing lamp",
            FaultFamily.Instrument, FaultOnset.DriftWithDays, DirectionConfidence.Medium,
            "Shade the head and read the darkest patch again.",
            dmin: None, low: None, contrast: Rgb(-0.006, -0.015, -0.025), dmax: Rgb(-0.035, -0.080, -0.150), yellow: Rgb(0, 0, -0.110)),
    ];

    private static ColourSizes None => default;

    private static ColourSizes Same(double size) => new(size, size, size);

    private static ColourSizes Rgb(double red, double green, double blue) => new(red, green, blue);

    private static FaultSignature Row(
        string key, string name, FaultFamily family, FaultOnset onset, DirectionConfidence confidence, string firstCheck,
        ColourSizes dmin, ColourSizes low, ColourSizes contrast, ColourSizes? dmax = null, ColourSizes? yellow = null)
    {
        var high = low + contrast;
        var dark = dmax ?? high;
        return new FaultSignature
        {
            Key = key,
            Name = name,
            ProcessKey = "c41",
            Family = family,
            Onset = onset,
            Confidence = confidence,
            FirstCheck = firstCheck,
            Source = "Common practice, from memory, not verified against a manual; sizes are rough.",
            Sizes = ImmutableDictionary.CreateRange(StringComparer.OrdinalIgnoreCase, new Dictionary<string, ColourSizes>
            {
                ["dmin"] = dmin,
                ["ld"] = low,
                ["hd"] = high,
                ["dmax"] = dark,
                ["yellow"] = yellow ?? new ColourSizes((dmin.Red + low.Red) / 2, (dmin.Green + low.Green) / 2, dark.Blue),
            }),
        };
    }
}
