namespace Acquire.Instruments.Tests.Links;

/// <summary>A clock that never waits: every timer goes off at once, and the time is then as late as it asked for.</summary>
internal sealed class ImpatientClock : TimeProvider
{
    private readonly Lock _lock = new();
    private long _ticks = new DateTimeOffset(2026, 11, 25, 18, 40, 0, TimeSpan.Zero).Ticks;

    public List<TimeSpan> Waits { get; } = [];

    public override long TimestampFrequency => TimeSpan.TicksPerSecond;

    public override DateTimeOffset GetUtcNow() => new(GetTimestamp(), TimeSpan.Zero);

    public override long GetTimestamp() => Interlocked.Read(ref _ticks);

    /// <summary>Lets time pass without anybody waiting.</summary>
    public void Pass(TimeSpan time)
    {
        lock (_lock)
        {
            _ticks += time.Ticks;
        }
    }

    public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period)
    {
        if (dueTime > TimeSpan.FromMinutes(10) || dueTime < TimeSpan.Zero)
        {
            return new Timer(); // patience, not a wait
        }

        lock (_lock)
        {
            Waits.Add(dueTime);
            _ticks += dueTime.Ticks;
        }

        ThreadPool.QueueUserWorkItem(_ => callback(state));
        return new Timer();
    }

    private sealed class Timer : ITimer
    {
        public bool Change(TimeSpan dueTime, TimeSpan period) => true;

        public void Dispose()
        {
        }

        public ValueTask DisposeAsync() => ValueTask.CompletedTask;
    }
}
