namespace Acquire.Instruments.Simulation;

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
        [("repeat", Repeat), ("skip", Skip), ("garble", Garble), ("split", Split), ("error", Error)];
}
