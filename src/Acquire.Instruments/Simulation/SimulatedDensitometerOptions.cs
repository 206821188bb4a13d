using Acquire.Instruments.Profiles;

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

    /// <summary>Whether it reads only when it is told, through the port; nobody presses its key. Default no.</summary>
    public bool OnlyWhenTold { get; init; }

    /// <summary>What it says it is, where the profile asks. Default serial 10427, version 1.2.</summary>
    public InstrumentIdentity Identity { get; init; } = new("10427", "1.2", "A");

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

/// <summary>What goes wrong at a simulated instrument, each with its probability, 0 … 1. All default to never.</summary>
public sealed record SimulatedFaults
{
    /// <summary>That a reading is sent twice in a row, as when the key bounces.</summary>
    public double Repeat { get; init; }

    /// <summary>That the person passes over a patch.</summary>
    public double Skip { get; init; }

    /// <summary>That one bit of a line is flipped, terminators included.</summary>
    public double Garble { get; init; }

    /// <summary>That a line comes in two pieces, cut anywhere, with a gap between.</summary>
    public double Split { get; init; }

    /// <summary>That the instrument reports an error first, where its profile has such a line.</summary>
    public double Error { get; init; }

    /// <summary>That an order is not obeyed.</summary>
    public double Deaf { get; init; }

    /// <summary>The gap between the pieces of a line, 0 … 1 s. Default 3 ms.</summary>
    public TimeSpan SplitGap { get; init; } = TimeSpan.FromMilliseconds(3);

    /// <summary>Key of a patch that is always beyond the instrument's range; null for none.</summary>
    public string? BeyondRangePatch { get; init; }

    /// <summary>What is out of bounds, in words; empty when nothing is.</summary>
    internal ImmutableArray<string> Errors() =>
    [
        .. from fault in Probabilities()
           where fault.Value is not (>= 0 and <= 1)
           select FormattableString.Invariant($"the probability of '{fault.Name}' is {fault.Value}; expected 0 to 1"),
        .. SplitGap < TimeSpan.Zero || SplitGap > TimeSpan.FromSeconds(1)
            ? [FormattableString.Invariant($"the gap in split lines is {SplitGap}; expected 0 to 1 s")]
            : ImmutableArray<string>.Empty,
    ];

    private (string Name, double Value)[] Probabilities() =>
        [("repeat", Repeat), ("skip", Skip), ("garble", Garble), ("split", Split), ("error", Error), ("deaf", Deaf)];
}
