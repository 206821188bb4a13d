using System.Runtime.CompilerServices;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Links;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Captures;

/// <summary>Runs a capture through framing and interpretation, the same way and with the same pauses as the live session.</summary>
public static class CaptureReplay
{
    /// <summary>
    /// Silence after the last chunk where the capture does not say when it was closed: longer than any pause that ends a line.
    /// </summary>
    private static readonly TimeSpan Silence = TimeSpan.FromMinutes(2);

    /// <summary>
    /// Every line as an event, in order, with the times of the capture. Where the link broke, the next line is begun anew.
    /// </summary>
    /// <param name="capture">The capture.</param>
    /// <param name="profile">How its lines are framed and parsed.</param>
    /// <param name="pace">The clock to run by; null runs as fast as possible.</param>
    /// <param name="cancellationToken">Ends the run.</param>
    public static async IAsyncEnumerable<InstrumentEvent> ReadAllAsync(
        Capture capture, DeviceProfile profile, TimeProvider? pace, [EnumeratorCancellation] CancellationToken cancellationToken)
    {
        var begin = capture.Chunks.IsEmpty ? DateTimeOffset.UnixEpoch : capture.Chunks[0].At;
        using var chunks = capture.As(profile.Framing).GetEnumerator();
        var fast = new CaptureClock(begin);
        TimeProvider clock = pace is null ? fast : new ShiftedClock(pace, begin);
        ReplayLink link;
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
