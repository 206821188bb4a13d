namespace Acquire.Instruments.Links;

/// <summary>How a broken link is opened again.</summary>
public sealed record ReconnectOptions
{
    /// <summary>The wait after the first failed attempt; it doubles, with jitter. Default 250 ms.</summary>
    public TimeSpan FirstDelay { get; init; } = TimeSpan.FromMilliseconds(250);

    /// <summary>The longest wait between two attempts. Default 30 s.</summary>
    public TimeSpan MaxDelay { get; init; } = TimeSpan.FromSeconds(30);

    /// <summary>How long a link may stay away before its fault surfaces; zero: at once; infinite, the default: for ever.</summary>
    public TimeSpan GiveUpAfter { get; init; } = Timeout.InfiniteTimeSpan;

    /// <summary>The silence that is told first; after that each doubling of it. Default 1 min.</summary>
    public TimeSpan FirstSilence { get; init; } = TimeSpan.FromMinutes(1);

    /// <summary>The folder of names that stay the same after replugging. Default <c>/dev/serial/by-id</c>.</summary>
    public string StableNames { get; init; } = PortList.StableNames;
}
