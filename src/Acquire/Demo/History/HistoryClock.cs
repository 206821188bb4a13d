namespace Acquire.Demo.History;

/// <summary>A clock that stands where it is put, in the time zone of another: what is written at a moment of the past bears that moment.</summary>
internal sealed class HistoryClock(TimeProvider real) : TimeProvider
{
    /// <summary>The moment, in UTC.</summary>
    public DateTimeOffset Now { get; private set; } = real.GetUtcNow();

    /// <inheritdoc/>
    public override TimeZoneInfo LocalTimeZone => real.LocalTimeZone;

    /// <inheritdoc/>
    public override DateTimeOffset GetUtcNow() => Now;

    /// <summary>Puts the clock to a moment, earlier or later.</summary>
    public void Set(DateTimeOffset moment) => Now = moment.ToUniversalTime();

    /// <summary>Lets some time pass.</summary>
    public void Advance(TimeSpan time) => Now += time;
}
