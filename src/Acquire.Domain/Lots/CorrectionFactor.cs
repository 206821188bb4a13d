namespace Acquire.Domain.Lots;

/// <summary>
/// The signed number that the maker's sheet gives for one patch and channel of a code number;
/// it is added to the reference reading to make the aim.
/// </summary>
public sealed record CorrectionFactor
{
    /// <summary>The largest size accepted, in density. Factors are mostly up to ±0.04 (common practice, no source).</summary>
    public const double Largest = 0.5;

    /// <summary>States a factor.</summary>
    /// <exception cref="ImpossibleValueException">The value is not finite or beyond ±0.5.</exception>
    public CorrectionFactor(string patchKey, Channel channel, double value)
    {
        PatchKey = Guard.Text(patchKey, "The patch of a correction factor");
        Channel = channel;
        Value = Math.Abs(Guard.Finite(value, "A correction factor")) <= Largest
            ? value
            : throw new ImpossibleValueException($"A correction factor of {value} cannot be: expected within ±{Largest}.");
    }

    /// <summary>Key of the patch.</summary>
    public string PatchKey { get; }

    /// <summary>The channel.</summary>
    public Channel Channel { get; }

    /// <summary>The number to add, in density, with its sign.</summary>
    public double Value { get; }
}
