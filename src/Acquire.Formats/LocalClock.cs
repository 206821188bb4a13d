namespace Acquire.Formats;

/// <summary>Turns what a clock on the wall showed into a time, and says so where the clock was put back or forward.</summary>
public sealed class LocalClock(TimeZoneInfo zone)
{
    /// <summary>The time, and what the user should know of it; null when there is nothing.</summary>
    public (DateTimeOffset At, string? Note) At(WrittenTime written)
    {
        var clock = DateTime.SpecifyKind(written.Clock, DateTimeKind.Unspecified);
        if (written.Offset is { } offset)
        {
            return (new DateTimeOffset(clock, offset), null);
        }

        var shown = clock.ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture);
        if (zone.IsInvalidTime(clock))
        {
            var before = zone.GetUtcOffset(clock.AddHours(-3));
            return (new DateTimeOffset(clock, before), $"the clock was put forward over {shown} in {zone.Id}; taken as if it had not been");
        }

        if (zone.IsAmbiguousTime(clock))
        {
            // The earlier of the two has the larger offset.
            var first = zone.GetAmbiguousTimeOffsets(clock).Max();
            return (new DateTimeOffset(clock, first),
                $"the clock was set back and showed {shown} twice in {zone.Id}; taken as the first of the two");
        }

        return (new DateTimeOffset(clock, zone.GetUtcOffset(clock)), null);
    }
}
