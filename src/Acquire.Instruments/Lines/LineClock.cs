namespace Acquire.Instruments.Lines;

/// <summary>
/// The time of day for stamping lines, which does not jump within a line: it is set when a line begins and then runs on by the
/// monotonic clock. So a system clock that is set back cannot hold a line that only a pause ends, nor one set forward cut it.
/// </summary>
internal sealed class LineClock(TimeProvider time)
{
    private DateTimeOffset _setTo = time.GetUtcNow();
    private long _setAt = time.GetTimestamp();

    /// <summary>The time now.</summary>
    public DateTimeOffset Now => _setTo + time.GetElapsedTime(_setAt);

    /// <summary>Sets it to the system's time of day.</summary>
    public void Set() => (_setTo, _setAt) = (time.GetUtcNow(), time.GetTimestamp());
}
