using Acquire.Bench.Books;

namespace Acquire.Rendering.Books;

/// <summary>Strips in stock, for people and for programs.</summary>
internal static class StockReport
{
    public static void Write(IAnsiConsole console, ImmutableArray<LotStock> stocks, TimeProvider time, bool json)
    {
        if (json)
        {
            JsonOutput.Write(console, stocks.Select(BookJson.Of));
            return;
        }

        if (stocks.IsEmpty)
        {
            console.Line("No strips counted yet. Count a box in: acquire lot stock CODE add 20");
            return;
        }

        var table = Tables.New("lot", "left", "out of the cold", "used", "spoiled", "thawed", "opened", "expires", "storage");
        foreach (var stock in stocks)
        {
            var (state, lot) = (stock.State, stock.Lot);
            table.Row(
                lot.Code,
                Numbers.Whole(state.Left) + (state.Overdrawn > 0 ? $", {state.Overdrawn} too many gone" : ""),
                Numbers.Whole(state.Out),
                Numbers.Whole(state.Used),
                Numbers.Whole(state.Spoiled),
                Numbers.Count(state.Thaws, "time"),
                state.OpenedAt is { } opened ? Numbers.Moment(opened, time) : "not yet",
                Expiry(stock),
                lot.StorageRule ?? "");
        }

        console.WriteTable(table);
    }

    /// <summary>One line about a stock.</summary>
    public static string Line(LotStock stock) =>
        $"Lot {stock.Lot.Code}: {Numbers.Count(stock.State.Left, "strip")} left, {stock.State.Out} out of the cold, thawed "
        + Numbers.Count(stock.State.Thaws, "time")
        + (Expiry(stock) is { Length: > 0 } expiry ? $"; expires {expiry}" : "");

    private static string Expiry(LotStock stock) => (stock.DaysToExpiry, Numbers.Day(stock.Lot.Expires)) switch
    {
        (null, _) => "",
        ( < 0, var day) => $"{day} EXPIRED",
        ({ } days, var day) => $"{day}, in {Numbers.Count(days, "day")}",
    };
}
