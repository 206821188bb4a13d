using Acquire.Bench.Books;

namespace Acquire.Rendering.Books;

/// <summary>Strips in stock, for people and for programs.</summary>
internal static class StockReport
{
    public static void Write(IAnsiConsole console, ImmutableArray<LotStock> stocks, TimeProvider time, bool json)
    {
        console.WriteList(
            stocks, json, BookJson.Of, "No strips counted yet. Count a box in: acquire lot stock CODE add 20",
            ["lot", "left", "out of the cold", "used", "spoiled", "thawed", "opened", "expires", "storage"],
            stock =>
            [
                stock.Lot.Code,
                Numbers.Whole(stock.State.Left) + (stock.State.Overdrawn > 0 ? $", {stock.State.Overdrawn} too many gone" : ""),
                Numbers.Whole(stock.State.Out),
                Numbers.Whole(stock.State.Used),
                Numbers.Whole(stock.State.Spoiled),
                Numbers.Count(stock.State.Thaws, "time"),
                stock.State.OpenedAt is { } opened ? Numbers.Moment(opened, time) : "not yet",
                Expiry(stock),
                stock.Lot.StorageRule ?? "",
            ]);
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
