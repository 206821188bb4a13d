namespace Acquire.Domain.Lots;

/// <summary>
/// The aim of one patch and channel: the average reading of the reference strip plus the correction factor
/// (US Navy <i>Photography (Advanced)</i>, US Army SS0514).
/// </summary>
public sealed record Aim
{
    /// <summary>States an aim.</summary>
    /// <exception cref="ImpossibleValueException">A number is not finite, or the uncertainty is below zero.</exception>
    public Aim(string patchKey, Channel channel, double reference, double correction, double standardUncertainty)
    {
        PatchKey = Guard.Text(patchKey, "The patch of an aim");
        Channel = channel;
        Reference = Guard.Finite(reference, "A reference reading");
        Correction = Guard.Finite(correction, "A correction factor");
        StandardUncertainty = Guard.Finite(standardUncertainty, "The uncertainty of an aim") >= 0
            ? standardUncertainty
            : throw new ImpossibleValueException("The uncertainty of an aim is not below zero.");
    }

    /// <summary>Key of the patch.</summary>
    public string PatchKey { get; }

    /// <summary>The channel.</summary>
    public Channel Channel { get; }

    /// <summary>Average density of the reference strip.</summary>
    public double Reference { get; }

    /// <summary>The lot's correction factor, added to the reference.</summary>
    public double Correction { get; }

    /// <summary>What a crossover from the lot before adds, in density, with its sign; 0 when none was accepted.</summary>
    public double Adjustment { get; init; }

    /// <summary>
    /// Standard uncertainty of the aim, in density: of the reference reading, or of the adjusted aim where there is an adjustment.
    /// </summary>
    public double StandardUncertainty { get; }

    /// <summary>The aim density: reference plus correction, plus the adjustment of a crossover.</summary>
    public double Value => Reference + Correction + Adjustment;
}
