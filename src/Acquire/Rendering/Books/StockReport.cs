namespace Acquire.Rendering.Books;

/// <summary>Strips in stock, for people and for programs.</summary>
internal static class StockReport
{
    public static void Write(
        IAnsiConsole console, IReadOnlyList<(StockState State, StripLot Lot)> stocks, TimeProvider time, DateTimeOffset at, bool json)
    {
        if (json)
        {
            JsonOutput.Write(console, stocks.Select(s => BookJson.Of(s.State, s.Lot.StorageRule, s.Lot.Expires, Days(s.Lot, time, at))));
            return;
        }

        if (stocks.Count == 0)
        {
            console.Line("No strips counted yet. Count a box in: acquire lot stock CODE add 20");
            return;
        }

        var table = Tables.New("lot", "left", "out of the cold", "used", "spoiled", "thawed", "opened", "expires", "storage");
        foreach (var (state, lot) in stocks)
        {
            table.Row(
                lot.Code,
                Number(state.Left) + (state.Overdrawn > 0 ? $", {state.Overdrawn} too many gone" : ""),
                Number(state.Out),
                Number(state.Used),
                Number(state.Spoiled),
                Numbers.Count(state.Thaws, "time"),
                state.OpenedAt is { } opened ? Numbers.Moment(opened, time) : "not yet",
                Expiry(lot, time, at),
                lot.StorageRule ?? "");
        }

        console.WriteTable(table);
    }

    /// <summary>One line about a stock.</summary>
    public static string Line(StockState state, StripLot lot, TimeProvider time, DateTimeOffset at) =>
        $"Lot {lot.Code}: {Numbers.Count(state.Left, "strip")} left, {state.Out} out of the cold, thawed "
        + $"{Numbers.Count(state.Thaws, "time")}"
        + (Expiry(lot, time, at) is { Length: > 0 } expiry ? $"; expires {expiry}" : "");

    private static string Expiry(
        StripLot lot, TimeProvider time, DateTimeOffset at) => (Days(lot, time, at), Numbers.Day(lot.Expires)) switch
    {
        (null, _) => "",
        ( < 0, var day) => $"{day} EXPIRED",
        (var days, var day) => $"{day}, in {Numbers.Count(days.Value, "day")}",
    };

    private static int? Days(StripLot lot, TimeProvider time, DateTimeOffset at) =>
        StockState.DaysToExpiry(lot.Expires, DateOnly.FromDateTime(TimeZoneInfo.ConvertTime(at, time.LocalTimeZone).DateTime));

    private static string Number(int number) => number.ToString(CultureInfo.InvariantCulture);
}
