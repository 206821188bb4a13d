namespace Acquire.Instruments.Links;

/// <summary>Looks from time to time whether the device behind an open port is still the one that was opened.</summary>
internal sealed class PortPresence
{
    private readonly string _resolvedPath;
    private readonly DeviceNode? _opened;
    private readonly TimeSpan _interval;
    private readonly TimeProvider _time;

    /// <summary>Remembers the device that is there now.</summary>
    public PortPresence(string resolvedPath, TimeSpan interval, TimeProvider time)
    {
        (_resolvedPath, _interval, _time) = (resolvedPath, interval, time);
        _opened = DeviceNode.Of(resolvedPath);
    }

    /// <summary>
    /// Whether the path still leads to the same device. A name that is no path, such as <c>COM3</c>, cannot be looked at.
    /// </summary>
    public bool IsThere =>
        !Path.IsPathRooted(_resolvedPath)
        || (_opened is { } opened ? DeviceNode.Of(_resolvedPath)?.Identity == opened.Identity : File.Exists(_resolvedPath));

    /// <summary>Waits until the device is gone or the port is dead. False when it was cancelled first.</summary>
    public async Task<bool> WaitUntilGoneAsync(Func<bool> isAlive, CancellationToken cancellationToken)
    {
        using var timer = new PeriodicTimer(_interval, _time);
        try
        {
            while (IsThere && isAlive())
            {
                _ = await timer.WaitForNextTickAsync(cancellationToken);
            }

            return !cancellationToken.IsCancellationRequested;
        }
        catch (OperationCanceledException)
        {
            return false;
        }
    }
}
