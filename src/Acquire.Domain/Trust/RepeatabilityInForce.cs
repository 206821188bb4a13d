namespace Acquire.Domain.Trust;

/// <summary>How the reads of one channel scattered in a repeatability test.</summary>
/// <param name="Channel">The channel.</param>
/// <param name="StandardDeviation">Standard deviation of a re-placed read, in density; the display step is in it.</param>
/// <param name="DegreesOfFreedom">Its degrees of freedom, 1 or more.</param>
public sealed record ChannelScatter(Channel Channel, double StandardDeviation, int DegreesOfFreedom);

/// <summary>
/// The repeatability test in force when a strip was read, with what it told. The uncertainties of the strip rest on it too.
/// </summary>
public sealed record RepeatabilityInForce
{
    /// <summary>States what a test told.</summary>
    /// <exception cref="ImpossibleValueException">
    /// No channel, a channel twice, a deviation that is below zero or not finite, or no degree of freedom.
    /// </exception>
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
                    $"The scatter in {channel.Word()} needs a deviation not below zero and one degree of freedom at least, not "
                    + $"{deviation} and {freedom}.");
            }
        }
    }

    /// <summary>Id of the test.</summary>
    public Guid TestId { get; }

    /// <summary>Its scatter by channel.</summary>
    public ImmutableArray<ChannelScatter> Channels { get; }
}
