using Acquire.Instruments.Lines;

namespace Acquire.Instruments.Tests.Lines;

public sealed class LineClockTests
{
    [Fact]
    public void Now_runs_on_when_the_system_clock_is_set_until_it_is_set_itself()
    {
        var time = new SettableTime();
        var clock = new LineClock(time);
        time.Elapse(TimeSpan.FromSeconds(2));
        time.Wall -= TimeSpan.FromHours(1);
        Assert.Equal(SettableTime.Start.AddSeconds(2), clock.Now);

        clock.Set();
        Assert.Equal(SettableTime.Start.AddSeconds(2).AddHours(-1), clock.Now);
    }

    /// <summary>A time of day and a monotonic clock that move apart.</summary>
    private sealed class SettableTime : TimeProvider
    {
        public static readonly DateTimeOffset Start = new(2026, 3, 2, 18, 0, 0, TimeSpan.Zero);
        private long _ticks;

        public DateTimeOffset Wall { get; set; } = Start;

        public override long TimestampFrequency => TimeSpan.TicksPerSecond;

        public void Elapse(TimeSpan span) => (_ticks, Wall) = (_ticks + span.Ticks, Wall + span);

        public override DateTimeOffset GetUtcNow() => Wall;

        public override long GetTimestamp() => _ticks;
    }
}
