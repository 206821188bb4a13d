using System.IO.Ports;

namespace Acquire.Instruments.Links;

/// <summary>
/// Waits until bytes lie at a port, so that no read is under way while it is silent: outside Windows the platform's port looks for them a
/// thousand times a second as long as one is (seen in System.IO.Ports 10.0.15), which costs more than a hundredth of a core day and night.
/// </summary>
/// <remarks>By the real clock: bytes do not wait for another.</remarks>
internal sealed class PortEar(SerialPort port, TimeProvider real)
{
    /// <summary>For so long after bytes came the next are awaited as the platform does, so that their times are as exact.</summary>
    private static readonly TimeSpan AwakeFor = TimeSpan.FromSeconds(30);

    private static readonly TimeSpan Awake = TimeSpan.FromMilliseconds(1);

    /// <summary>Less than a line takes at 9600 baud: the read begins before its last byte comes.</summary>
    private static readonly TimeSpan Drowsy = TimeSpan.FromMilliseconds(20);

    /// <summary>Returns when a read would find bytes, or would find that the port is lost; also when nobody wants them any more.</summary>
    public async Task ListenAsync(Task unwanted)
    {
        var since = real.GetTimestamp();
        while (!OperatingSystem.IsWindows() && !unwanted.IsCompleted && port.BytesToRead == 0)
        {
            await Task.Delay(real.GetElapsedTime(since) < AwakeFor ? Awake : Drowsy, real, CancellationToken.None);
        }
    }
}
