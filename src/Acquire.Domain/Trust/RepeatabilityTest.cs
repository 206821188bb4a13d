namespace Acquire.Domain.Trust;

/// <summary>One repeatability test: some patches read many times, placed anew in between.</summary>
public sealed record RepeatabilityTest
{
    /// <param name="id">UUID v7.</param>
    /// <param name="patches">Every read of every patch, in the order of reading.</param>
    /// <param name="readsPerPlacement">How many reads that count follow each other without
    /// moving the patch; 1 when it is placed anew for each.</param>
    /// <param name="specification">The largest standard deviation that passes, in density.</param>
    /// <param name="passed">The verdict when it was made.</param>
    /// <param name="sessionId">The bench session; null when the readings were taken elsewhere.</param>
    /// <exception cref="ImpossibleValueException">No patches, a patch twice, no read that counts, fewer than one read
    /// per placement, or a specification not above zero.</exception>
    public RepeatabilityTest(
        Guid id, ImmutableArray<PatchReads> patches, int readsPerPlacement, double specification, bool passed,
        Provenance provenance, Guid? sessionId = null)
    {
        (Id, Passed, Provenance, SessionId) = (id, passed, provenance, sessionId);
        Patches = PatchReads.Counted(patches, "a repeatability test", "The repeatability test");
        ReadsPerPlacement = readsPerPlacement >= 1
            ? readsPerPlacement
            : throw new ImpossibleValueException($"Each placement has one read at least, not {readsPerPlacement}.");
        // A standard deviation of a whole density is a slip of the decimal point.
        Specification = specification is > 0 and < 1
            ? specification
            : throw new ImpossibleValueException(
                $"The specification is a standard deviation in density above 0 and below 1, such as 0.010; not {specification}.");
    }

    /// <summary>UUID v7.</summary>
    public Guid Id { get; }

    /// <summary>Every read, in the order of reading.</summary>
    public ImmutableArray<PatchReads> Patches { get; }

    /// <summary>How many reads that count share a placement.</summary>
    public int ReadsPerPlacement { get; }

    /// <summary>The largest standard deviation that passes, in density.</summary>
    public double Specification { get; }

    /// <summary>Whether the instrument passed.</summary>
    public bool Passed { get; }

    /// <summary>When, by whom and with what it was read.</summary>
    public Provenance Provenance { get; }

    /// <summary>The bench session; null when the readings were taken elsewhere.</summary>
    public Guid? SessionId { get; }
}

/// <summary>How the reads of one channel scattered in a repeatability test.</summary>
/// <param name="StandardDeviation">Standard deviation of a re-placed read, in density; the display step is in it.</param>
/// <param name="DegreesOfFreedom">Its degrees of freedom, 1 or more.</param>
public sealed record ChannelScatter(Channel Channel, double StandardDeviation, int DegreesOfFreedom);

/// <summary>The repeatability test in force when a strip was read, with what it
/// told. The uncertainties of the strip rest on it too.</summary>
public sealed record RepeatabilityInForce
{
    /// <summary>States what a test told.</summary>
    /// <exception cref="ImpossibleValueException">No channel, a channel twice, a deviation that is
    /// below zero or not finite, or no degree of freedom.</exception>
    public RepeatabilityInForce(Guid testId, ImmutableArray<ChannelScatter> channels)
    {
        TestId = testId;
        Channels = Guard.NotEmpty(channels, "The channels of a repeatability test");
        Guard.Unique(Channels, c => c.Channel.Word(), "The channel");
        foreach (var (channel, deviation, freedom) in Channels)
        {
            if (!double.IsFinite(deviation) || deviation < 0 || freedom < 1)
            {
                throw new ImpossibleValueException(
                    $"The scatter in {channel.Word()} needs a deviation not below zero and "
                    + $"one degree of freedom at least, not {deviation} and {freedom}.");
            }
        }
    }

    public Guid TestId { get; }

    public ImmutableArray<ChannelScatter> Channels { get; }
}
