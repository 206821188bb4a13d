namespace Acquire.Domain.Strips;

/// <summary>The mean of the reads of one patch in one channel that count.</summary>
public sealed record PatchMean
{
    /// <summary>States a mean.</summary>
    /// <exception cref="ImpossibleValueException">A number is not finite, no read counts, or s is below zero.</exception>
    public PatchMean(string patchKey, Channel channel, double mean, int reads, double? standardDeviation, double resolution)
    {
        PatchKey = Guard.Text(patchKey, "The patch of a mean");
        Channel = channel;
        Mean = Guard.Finite(mean, "A mean density");
        Reads = reads >= 1 ? reads : throw new ImpossibleValueException("A mean needs one read at least.");
        StandardDeviation = standardDeviation is null or (>= 0 and < double.PositiveInfinity)
            ? standardDeviation
            : throw new ImpossibleValueException("A standard deviation is a finite number not below zero.");
        Resolution = resolution > 0 && double.IsFinite(resolution)
            ? resolution
            : throw new ImpossibleValueException("The resolution of a display is above zero.");
    }

    /// <summary>Key of the patch.</summary>
    public string PatchKey { get; }

    /// <summary>The channel.</summary>
    public Channel Channel { get; }

    /// <summary>Arithmetic mean of the densities.</summary>
    public double Mean { get; }

    /// <summary>How many reads it is the mean of.</summary>
    public int Reads { get; }

    /// <summary>Sample standard deviation (n − 1) of the reads, in density; null with one read.</summary>
    public double? StandardDeviation { get; }

    /// <summary>The coarsest display step among the reads, in density.</summary>
    public double Resolution { get; }
}
