namespace Acquire.Instruments.Simulation;

/// <summary>What went wrong with a simulated reading.</summary>
[Flags]
public enum ReadingFaults
{
    /// <summary>Nothing.</summary>
    None = 0,

    /// <summary>It was sent twice.</summary>
    Repeated = 1,

    /// <summary>It was not sent: the patch was passed over.</summary>
    Skipped = 2,

    /// <summary>A bit of it was flipped.</summary>
    Garbled = 4,

    /// <summary>A line of it came in two pieces.</summary>
    Split = 8,

    /// <summary>An error was reported first.</summary>
    ErrorFirst = 16,

    /// <summary>It was beyond the range.</summary>
    BeyondRange = 32,
}

/// <summary>One reading that a simulated densitometer took.</summary>
/// <param name="Strip">Number of the strip, from 0.</param>
/// <param name="PatchKey">The patch.</param>
/// <param name="Densities">What the display showed.</param>
/// <param name="Faults">What went wrong.</param>
public sealed record SimulatedReading(int Strip, string PatchKey, ChannelDensities Densities, ReadingFaults Faults);
