namespace Acquire.Instruments.Captures;

/// <summary>
/// The time in a capture that is run through as fast as possible: it stands still until the next chunk sets it on. It never goes back,
/// and its timers never fire, because a pause shows only when the chunk after it is there.
/// </summary>
internal sealed class CaptureClock(DateTimeOffset begin) : TimeProvider
{
    private DateTimeOffset _now = begin;

    public override long TimestampFrequency => TimeSpan.TicksPerSecond;

    public void SetOn(DateTimeOffset at) => _now = at > _now ? at : _now;

    public override DateTimeOffset GetUtcNow() => _now;

    public override long GetTimestamp() => _now.UtcTicks;

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
