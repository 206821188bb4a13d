using System.Runtime.CompilerServices;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Links;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Captures;

/// <summary>Runs a capture through framing and interpretation, the same way and with the same pauses as the live session.</summary>
public static class CaptureReplay
{
    /// <summary>Silence after the last chunk where the capture does not say when it
    /// was closed: longer than any pause that ends a line.</summary>
    private static readonly TimeSpan Silence = TimeSpan.FromMinutes(2);

    /// <summary>Every line as an event, in order, with the times of the capture.
    /// Where the link broke, the next line is begun anew.</summary>
    /// <param name="profile">How its lines are framed and parsed.</param>
    /// <param name="pace">The clock to run by; null runs as fast as possible.</param>
    public static async IAsyncEnumerable<InstrumentEvent> ReadAllAsync(
        Capture capture, DeviceProfile profile, TimeProvider? pace, [EnumeratorCancellation] CancellationToken cancellationToken)
    {
        var begin = capture.Chunks.IsEmpty ? DateTimeOffset.UnixEpoch : capture.Chunks[0].At;
        using var chunks = capture.As(profile.Framing).GetEnumerator();
        var fast = new CaptureClock(begin);
        TimeProvider clock = pace is null ? fast : new ShiftedClock(pace, begin);
        ReplayLink link;
        // A link for each stretch between breaks, as live: what was unfinished at a break must stay so.
        do
        {
            link = new ReplayLink(chunks, EndOfSilence, WaitUntilAsync);
            await foreach (var received in UntilBreakAsync(link, profile, clock, cancellationToken))
            {
                yield return received;
            }
        }
        while (!link.IsAtEnd);

        // In real time nobody wants to wait for a silence that only ends a line.
        DateTimeOffset EndOfSilence() =>
            capture.EndedAt ?? clock.GetUtcNow() + (pace is null ? Silence : profile.Framing.IdleGap ?? TimeSpan.Zero);

        async ValueTask WaitUntilAsync(DateTimeOffset at, CancellationToken token)
        {
            if (pace is null)
            {
                fast.SetOn(at);
            }
            else if (at - clock.GetUtcNow() is { Ticks: > 0 } left)
            {
                await Task.Delay(left, pace, token);
            }
        }
    }

    private static async IAsyncEnumerable<InstrumentEvent> UntilBreakAsync(
        ReplayLink link, DeviceProfile profile, TimeProvider clock, [EnumeratorCancellation] CancellationToken cancellationToken)
    {
        await using var events =
            InstrumentReader.ReadAllAsync(link, profile, clock, cancellationToken).GetAsyncEnumerator(cancellationToken);
        while (await NextAsync(events))
        {
            yield return events.Current;
        }
    }

    private static async ValueTask<bool> NextAsync(IAsyncEnumerator<InstrumentEvent> events)
    {
        try
        {
            return await events.MoveNextAsync();
        }
        catch (LinkException)
        {
            return false;
        }
    }
}

/// <summary>Gives the chunks of a capture as a link would, each at its time, up to where the link broke or the capture ends.</summary>
/// <param name="chunks">The chunks, at the first that is to come; several links may follow each other on the same ones.</param>
/// <param name="endsAt">The time to which it is silent after the last chunk.</param>
/// <param name="waitUntil">Waits until it is so late in the capture.</param>
internal sealed class ReplayLink(
    IEnumerator<CaptureChunk> chunks, Func<DateTimeOffset> endsAt, Func<DateTimeOffset, CancellationToken, ValueTask> waitUntil) : IByteLink
{
    private ReadOnlyMemory<byte> _rest;

    public string Name => "capture";

    /// <summary>Whether the last chunk has been given, so that no link can follow.</summary>
    public bool IsAtEnd { get; private set; }

    public async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken)
    {
        if (_rest.IsEmpty)
        {
            cancellationToken.ThrowIfCancellationRequested();
            if (!chunks.MoveNext())
            {
                IsAtEnd = true;
                await waitUntil(endsAt(), cancellationToken);
                throw new LinkException(LinkFault.Gone, "The capture ends here.");
            }

            await waitUntil(chunks.Current.At, cancellationToken);
            if (chunks.Current.IsBreak)
            {
                throw new LinkException(LinkFault.Gone, "The link broke here.");
            }

            _rest = chunks.Current.Bytes.AsMemory();
        }

        var count = Math.Min(buffer.Length, _rest.Length);
        _rest[..count].CopyTo(buffer);
        _rest = _rest[count..];
        return count;
    }

    public ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellationToken) =>
        throw new LinkException(LinkFault.Broken, "Nothing can be sent to a capture.");

    public ValueTask DisposeAsync() => ValueTask.CompletedTask;
}

/// <summary>The time in a capture that is run through as fast as possible: it stands still until the next chunk sets it on. It never goes
/// back, and its timers never fire, because a pause shows only when the chunk after it is there.</summary>
internal sealed class CaptureClock(DateTimeOffset begin) : TimeProvider
{
    private DateTimeOffset _now = begin;

    public override long TimestampFrequency => TimeSpan.TicksPerSecond;

    public void SetOn(DateTimeOffset at) => _now = at > _now ? at : _now;

    public override DateTimeOffset GetUtcNow() => _now;

    public override long GetTimestamp() => _now.UtcTicks;

    // This clock goes on with the chunks only; a timer that really ran would end lines by the pauses of today.
    public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period) => new Idle();

    private sealed class Idle : ITimer
    {
        public bool Change(TimeSpan dueTime, TimeSpan period) => true;

        public void Dispose()
        {
        }

        public ValueTask DisposeAsync() => ValueTask.CompletedTask;
    }
}

/// <summary>A clock that runs as another does, from another moment on: the time in a capture that is run through in real time.</summary>
internal sealed class ShiftedClock(TimeProvider real, DateTimeOffset begin) : TimeProvider
{
    private readonly TimeSpan _shift = begin - real.GetUtcNow();

    public override long TimestampFrequency => real.TimestampFrequency;

    public override DateTimeOffset GetUtcNow() => real.GetUtcNow() + _shift;

    public override long GetTimestamp() => real.GetTimestamp();

    public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period) =>
        real.CreateTimer(callback, state, dueTime, period);
}
