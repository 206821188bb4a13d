using Acquire.Instruments.Links;

namespace Acquire.Instruments.Learning;

/// <summary>What is to be learned at a port.</summary>
/// <param name="Address">The port.</param>
/// <param name="Channels">The channels of the display, in the order in which they are typed.</param>
/// <param name="Name">The name of the profile to make.</param>
public sealed record LiveRequest(LinkAddress Address, ImmutableArray<Channel> Channels, string Name)
{
    /// <summary>The rate that is tried first.</summary>
    public static int FirstRate => LinkCandidates.Rates[0];

    /// <summary>Bits per second, where they are known; null tries the usual ones.</summary>
    public int? Baud { get; init; }

    /// <summary>How long a reading is waited for before the user is asked. Default 30 s.</summary>
    public TimeSpan Patience { get; init; } = TimeSpan.FromSeconds(30);

    /// <summary>The silence that ends a reading, to begin with. Default 1.2 s.</summary>
    public TimeSpan Quiet { get; init; } = TimeSpan.FromSeconds(1.2);

    /// <summary>The most readings that are asked for before it is given up. Default 5.</summary>
    public int MostReadings { get; init; } = 5;

    /// <summary>Whether rate and framing can be set: not through a server that passes raw bytes.</summary>
    public bool CanSet => Address is not LinkAddress.Tcp;
}
