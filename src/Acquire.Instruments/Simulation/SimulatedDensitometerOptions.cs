namespace Acquire.Instruments.Simulation;

/// <summary>How the person at a simulated densitometer works.</summary>
public sealed record SimulatedDensitometerOptions
{
    private static readonly TimeSpan LongestPause = TimeSpan.FromHours(1);

    /// <summary>Determines all that is left to chance. Default 1.</summary>
    public int Seed { get; init; } = 1;

    /// <summary>Reads of each patch in a row, 1 … 50. Default 3.</summary>
    public int ReadsPerPatch { get; init; } = 3;

    /// <summary>How many strips are read, 1 or more; null for no end. Default no end.</summary>
    public int? Strips { get; init; }

    /// <summary>From the arrival of a listener to the first reading, 0 … 1 h. Default 1 s.</summary>
    public TimeSpan BeforeFirst { get; init; } = TimeSpan.FromSeconds(1);

    /// <summary>From one reading to the next, 0 … 1 h. Default 2 s.</summary>
    public TimeSpan BetweenReadings { get; init; } = TimeSpan.FromSeconds(2);

    /// <summary>From the last reading of a strip to the first of the next, 0 … 1 h. Default 10 s.</summary>
    public TimeSpan BetweenStrips { get; init; } = TimeSpan.FromSeconds(10);

    /// <summary>Whether a strip is begun anew when its listener is replaced by another. Default yes.</summary>
    public bool RestartForNewListener { get; init; } = true;

    /// <summary>What goes wrong. Default nothing.</summary>
    public SimulatedFaults Faults { get; init; } = new();

    /// <summary>Checks the bounds.</summary>
    /// <exception cref="ArgumentException">Something is out of bounds; the message names all that is.</exception>
    public void Demand()
    {
        var errors = Faults.Errors()
            .AddRange(Pause("before the first reading", BeforeFirst))
            .AddRange(Pause("between readings", BetweenReadings))
            .AddRange(Pause("between strips", BetweenStrips));
        if (ReadsPerPatch is < 1 or > 50)
        {
            errors = errors.Add(FormattableString.Invariant($"the reads per patch are {ReadsPerPatch}; expected 1 to 50"));
        }

        if (Strips < 1)
        {
            errors = errors.Add(FormattableString.Invariant($"the number of strips is {Strips}; expected 1 or more"));
        }

        if (!errors.IsEmpty)
        {
            throw new ArgumentException($"The simulated densitometer cannot work so: {string.Join("; ", errors)}.");
        }
    }

    private static ImmutableArray<string> Pause(string which, TimeSpan value) =>
        value < TimeSpan.Zero || value > LongestPause
            ? [FormattableString.Invariant($"the pause {which} is {value}; expected 0 to 1 h")]
            : [];
}
