using System.Runtime.CompilerServices;
using System.Runtime.ExceptionServices;
using Acquire.Instruments.Links;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Lines;

/// <summary>Reads a link to its end: bytes → lines → events, in one loop with one read under way at a time.</summary>
public static class InstrumentReader
{
    private const int ChunkSize = 1024;
    private static readonly TimeSpan LeastWait = TimeSpan.FromMilliseconds(1);

    /// <summary>
    /// Every line of the link as an event, until the link breaks or the token is cancelled. What was received before a fault is
    /// delivered first, an unfinished last line as one that fits nothing; then the fault surfaces.
    /// </summary>
    /// <param name="link">The link; it is read, not disposed.</param>
    /// <param name="profile">How its lines are framed and parsed.</param>
    /// <param name="time">Stamps the lines and measures the idle gap.</param>
    /// <param name="cancellationToken">Ends the reading.</param>
    /// <exception cref="LinkException">The link broke or ended.</exception>
    /// <exception cref="OperationCanceledException">The token was cancelled.</exception>
    public static async IAsyncEnumerable<InstrumentEvent> ReadAllAsync(
        IByteLink link, DeviceProfile profile, TimeProvider time, [EnumeratorCancellation] CancellationToken cancellationToken)
    {
        var framer = new LineFramer(profile.Framing, profile.Link.MaskTopBit);
        var interpreter = new LineInterpreter(profile);
        var clock = new LineClock(time);
        var buffer = new byte[ChunkSize];
        using var ending = CancellationTokenSource.CreateLinkedTokenSource(cancellationToken);
        Task<int>? read = null;
        try
        {
            while (true)
            {
                read ??= link.ReadAsync(buffer, ending.Token).AsTask();
                await WaitAsync(read, framer.Deadline - clock.Now, time);
                var done = read.IsCompleted;
                var (frames, fault) = done ? Received(read, framer, buffer, clock) : (framer.Flush(clock.Now), null);
                read = done ? null : read;
                foreach (var frame in frames)
                {
                    yield return interpreter.Interpret(frame);
                }

                fault?.Throw();
            }
        }
        finally
        {
            // A caller that stops early leaves no read behind that would eat the bytes of the next reader.
            await ending.CancelAsync();
            await ((Task?)read ?? Task.CompletedTask).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        }
    }

    /// <summary>Waits for the read, or for the end of the idle gap where one runs; the read itself goes on.</summary>
    private static async Task WaitAsync(Task read, TimeSpan? untilGap, TimeProvider time)
    {
        var waiting = untilGap is { } left ? read.WaitAsync(left > LeastWait ? left : LeastWait, time) : read;
        await waiting.ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
    }

    private static (IReadOnlyList<LineFrame> Frames, ExceptionDispatchInfo? Fault) Received(
        Task<int> read, LineFramer framer, byte[] buffer, LineClock clock)
    {
        try
        {
            var received = read.GetAwaiter().GetResult();
            if (!framer.HasPending)
            {
                clock.Set();
            }

            return (framer.Push(buffer.AsSpan(0, received), clock.Now), null);
        }
        catch (LinkException fault)
        {
            // A pause that was long enough before the link broke has ended the line.
            return ([.. framer.Flush(clock.Now), .. framer.Finish()], ExceptionDispatchInfo.Capture(fault));
        }
    }
}
