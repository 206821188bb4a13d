namespace Acquire.Bench.Readings;

/// <summary>
/// What is told before a strip of a lot is read that expires soon or has expired; reading goes on, since the user may want to know how
/// the strips have kept.
/// </summary>
internal static class LotExpiry
{
    /// <summary>How long before a lot expires the user is told to run the crossover (common practice, no source).</summary>
    private const int CrossoverDays = 30;

    public static void Tell(StripLot lot, TimeProvider time, Action<string> tell)
    {
        if (lot.Expires is not { } expires)
        {
            return;
        }

        var last = Numbers.Day(expires);
        var today = DateOnly.FromDateTime(time.GetLocalNow().DateTime);
        var days = expires.DayNumber - today.DayNumber;
        if (lot.IsExpiredOn(today))
        {
            tell($"Lot {lot.Code} expired on {last}: old strips read high in D-min and low in LD. Do not blame the process for that.");
        }
        else if (days <= CrossoverDays)
        {
            var left = days == 0 ? "today" : string.Create(CultureInfo.InvariantCulture, $"in {days} {(days == 1 ? "day" : "days")}");
            tell($"Lot {lot.Code} expires on {last}, {left}. Run the crossover to the next lot while strips are left: acquire lot "
                + $"crossover {lot.Code} NEXT");
        }
    }
}
