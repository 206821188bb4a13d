namespace Acquire.Domain.Strips;

/// <summary>The mean of the reads of one patch in one channel that count.</summary>
public sealed record PatchMean
{
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

    public string PatchKey { get; }

    public Channel Channel { get; }

    /// <summary>Arithmetic mean of the densities.</summary>
    public double Mean { get; }

    public int Reads { get; }

    /// <summary>Sample standard deviation (n − 1) of the reads, in density; null with one read.</summary>
    public double? StandardDeviation { get; }

    /// <summary>The coarsest display step among the reads, in density.</summary>
    public double Resolution { get; }
}

/// <summary>The means of the reads that count.</summary>
public static class PatchMeans
{
    /// <summary>Averages every patch in every channel that has a read. It is the arithmetic mean of densities, as process control does it,
    /// not the density of the mean transmittance: 0.30 and 0.34 make 0.32, where by way of transmittance they would make 0.3195.</summary>
    /// <param name="patches">The reads of each patch; excluded reads and patches left out do not count.</param>
    /// <returns>By patch in the given order, then by channel; a patch and channel without a read that counts has no mean.</returns>
    public static ImmutableArray<PatchMean> Of(ImmutableArray<PatchReads> patches) =>
    [
        .. from patch in patches
           from channel in Channels.All
           let reads = patch.Densities(channel).ToImmutableArray()
           where !reads.IsEmpty
           select MeanOf(patch.Patch.Key, channel, reads),
    ];

    // In decimal, so that 0.26 and 0.28 make 0.27 and not a hair beside it, and reads that are all alike scatter by exactly 0.
    private static PatchMean MeanOf(string patchKey, Channel channel, ImmutableArray<Density> reads)
    {
        var mean = reads.Average(d => d.Value);
        double? deviation =
            reads.Length == 1 ? null : Math.Sqrt((double)reads.Sum(d => (d.Value - mean) * (d.Value - mean)) / (reads.Length - 1));

        // A mean of -0.00 is 0, as a database has no negative zero.
        return new PatchMean(patchKey, channel, (double)mean + 0.0, reads.Length, deviation, reads.Max(d => d.Resolution));
    }
}
