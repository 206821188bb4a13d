namespace Acquire.Instruments.Links;

/// <summary>Looks from time to time whether a port that is away has come back, which costs far less than to try to open it.</summary>
internal sealed class PortWatch(LinkAddress address, TimeProvider time)
{
    /// <summary>How often it is looked.</summary>
    public static readonly TimeSpan Interval = TimeSpan.FromMilliseconds(250);

    private readonly string? _path = address is LinkAddress.Serial { Path: var path } && Path.IsPathRooted(path) ? path : null;

    /// <summary>Whether opening the port needs nothing but this computer, so that it may be tried often.</summary>
    public bool IsNear => _path is not null || (OperatingSystem.IsWindows() && address is LinkAddress.Serial);

    /// <summary>Whether a port that comes back is noticed; a server's, or one that is no path, such as <c>COM3</c>, is not.</summary>
    public bool Notices => _path is not null;

    /// <summary>What stands at the port's path now.</summary>
    public PortSight Look() => _path is null ? default : DeviceNode.Of(_path) is { } node ? new(true, node) : new(Path.Exists(_path), null);

    /// <summary>Waits so long, but only until there is a port that is not the one that was seen.</summary>
    public async Task WaitAsync(TimeSpan longest, PortSight seen, CancellationToken cancellationToken)
    {
        if (!Notices)
        {
            await Task.Delay(longest, time, cancellationToken);
            return;
        }

        var begun = time.GetTimestamp();
        while (Look() is var now && (!now.IsThere || now == seen) && longest - time.GetElapsedTime(begun) is { Ticks: > 0 } left)
        {
            await Task.Delay(left < Interval ? left : Interval, time, cancellationToken);
        }
    }
}

/// <summary>What stood at a path at one moment. Two are equal when nothing came, went or changed hands in between.</summary>
internal readonly record struct PortSight(bool IsThere, DeviceNode? Node);
