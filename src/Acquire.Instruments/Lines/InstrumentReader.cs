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

    /// <summary>Every line of the link as an event, until the link breaks or the token is cancelled. What was received before a fault is
    /// delivered first, an unfinished last line as one that fits nothing; then the fault surfaces.</summary>
    /// <param name="link">The link; it is read, not disposed.</param>
    /// <param name="profile">How its lines are framed and parsed.</param>
    /// <param name="time">Stamps the lines and measures the idle gap.</param>
    /// <exception cref="LinkException">The link broke or ended.</exception>
    /// <exception cref="OperationCanceledException">The token was cancelled.</exception>
    public static async IAsyncEnumerable<InstrumentEvent> ReadAllAsync(
        IByteLink link, DeviceProfile profile, TimeProvider time, [EnumeratorCancellation] CancellationToken cancellationToken)
    {
        await foreach (var reception in ReceiveAllAsync(link, profile, time, cancellationToken))
        {
            foreach (var received in reception.Events)
            {
                yield return received;
            }
        }
    }

    /// <summary>The same together with what it came from, so that it can be kept and read again: the opening, every chunk
    /// of bytes, the pauses that ended a line, the break.</summary>
    /// <param name="link">The link, from its beginning; it is read, not disposed.</param>
    /// <param name="profile">How its lines are framed and parsed.</param>
    /// <param name="time">Stamps what happens and measures the idle gap.</param>
    /// <exception cref="LinkException">The link broke or ended.</exception>
    /// <exception cref="OperationCanceledException">The token was cancelled.</exception>
    public static async IAsyncEnumerable<Reception> ReceiveAllAsync(
        IByteLink link, DeviceProfile profile, TimeProvider time, [EnumeratorCancellation] CancellationToken cancellationToken)
    {
        var lines = new LineReception(profile);
        var clock = new LineClock(time);
        var buffer = new byte[ChunkSize];
        using var ending = CancellationTokenSource.CreateLinkedTokenSource(cancellationToken);
        Task<int>? read = null;
        try
        {
            yield return lines.Take(new JournalEntry(0, clock.Now, JournalEvent.Opened));
            while (true)
            {
                // The read outlives the wait for it: to cancel one at each pause could lose bytes that are already on their way.
                read ??= link.ReadAsync(buffer, ending.Token).AsTask();
                await WaitAsync(read, lines.Deadline - clock.Now, time);
                if (!read.IsCompleted)
                {
                    if (lines.Deadline <= clock.Now)
                    {
                        yield return lines.Take(new JournalEntry(0, clock.Now, JournalEvent.Paused));
                    }

                    continue;
                }

                var (entry, fault) = Received(read, lines, buffer, clock);
                read = null;
                // The lines that the break ended go first; the fault must not take them along.
                yield return lines.Take(entry);
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

    private static (JournalEntry Entry, ExceptionDispatchInfo? Fault) Received(
        Task<int> read, LineReception lines, byte[] buffer, LineClock clock)
    {
        try
        {
            var count = read.GetAwaiter().GetResult();
            // Only between lines: a system clock that is set would tear a line, or glue two.
            if (!lines.HasPending)
            {
                clock.Set();
            }

            return (new JournalEntry(0, clock.Now, JournalEvent.Received) { Bytes = [.. buffer.AsSpan(0, count)] }, null);
        }
        catch (LinkException fault)
        {
            return (new JournalEntry(0, clock.Now, JournalEvent.Broke), ExceptionDispatchInfo.Capture(fault));
        }
    }
}

/// <summary>The time of day for stamping lines, which does not jump within a line: it is set when a line begins and then runs on by the
/// monotonic clock. So a system clock that is set back cannot hold a line that only a pause ends, nor one set forward cut it.</summary>
internal sealed class LineClock(TimeProvider time)
{
    private DateTimeOffset _setTo = time.GetUtcNow();
    private long _setAt = time.GetTimestamp();

    public DateTimeOffset Now => _setTo + time.GetElapsedTime(_setAt);

    /// <summary>Sets it to the system's time of day.</summary>
    public void Set() => (_setTo, _setAt) = (time.GetUtcNow(), time.GetTimestamp());
}
