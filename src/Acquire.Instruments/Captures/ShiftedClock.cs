namespace Acquire.Instruments.Captures;

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
