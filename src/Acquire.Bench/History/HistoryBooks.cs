namespace Acquire.Bench.History;

/// <summary>What the books say of a strip's day, in the words that groups of strips are told apart by.</summary>
internal static class HistoryBooks
{
    private const double Full = 0.9;

    /// <summary>
    /// How a bottle is kept: container, how full, gas. The same words for bottles kept alike; null when nothing is known.
    /// </summary>
    public static string? Storage(BottleState? bottle)
    {
        if (bottle is null)
        {
            return null;
        }

        string?[] words = [
            bottle.Storage.Container, bottle.FillShare is { } share ? share >= Full ? "full" : "part full" : null, bottle.Storage.Gas];
        return words.All(w => w is null) ? null : string.Join(", ", words.OfType<string>());
    }

    /// <summary>The method of a line in force; null when none was entered.</summary>
    public static string? Method(LineState? line)
    {
        string?[] words =
        [
            line?.Agitation,
            line?.Temperature is { } celsius ? celsius.ToString("0.0# °C", CultureInfo.InvariantCulture) : null,
            line?.Time is { } time ? time.ToString(@"m\:ss", CultureInfo.InvariantCulture) : null,
        ];
        return words.All(w => w is null) ? null : string.Join(", ", words.OfType<string>());
    }
}
