namespace DemoTerm;

/// <summary>
/// The clock of the college: it stands where it is put, and what is written at a moment bears that moment. Its UTC is the time on the wall.
/// </summary>
internal sealed class HistoryClock(DateTimeOffset begin) : TimeProvider
{
    /// <summary>The moment.</summary>
    public DateTimeOffset Now { get; private set; } = begin;

    /// <inheritdoc/>
    public override TimeZoneInfo LocalTimeZone => TimeZoneInfo.Utc;

    /// <inheritdoc/>
    public override DateTimeOffset GetUtcNow() => Now;

    /// <summary>Puts the clock to a moment, earlier or later.</summary>
    public void Set(DateTimeOffset moment) => Now = moment;

    /// <summary>Lets some time pass.</summary>
    public void Advance(TimeSpan time) => Now += time;
}
