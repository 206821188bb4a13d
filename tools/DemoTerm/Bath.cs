namespace DemoTerm;

/// <summary>A mix, and the bottles or tanks it was filled into.</summary>
/// <param name="Mix">Name of the mix.</param>
/// <param name="Kind">What it does.</param>
/// <param name="Litres">How much goes into each.</param>
/// <param name="Storage">How it is kept.</param>
/// <param name="Bottles">The bottles.</param>
internal sealed record Bath(string Mix, SolutionKind Kind, double Litres, BottleStorage Storage, params string[] Bottles)
{
    private static readonly TimeSpan Filling = TimeSpan.FromMinutes(15);

    /// <summary>Mixing and filling, one after the other.</summary>
    public IEnumerable<HistoryStep> Made(DateTimeOffset at) =>
    [
        new(at, (d, token) => d.Books.EnterAsync(
            People.Technician, (_, stamp) => [new Solution(stamp(), Mix, Kind, Places.Process, Litres * Bottles.Length)], token)),
        new(at + Filling, (d, token) => d.Books.EnterAsync(
            People.Technician,
            (books, stamp) => Bottles.Select(b => new Bottle(stamp(), b, books.Solutions.Single(s => s.Name == Mix).Id, Litres, Storage)),
            token)),
    ];

    /// <summary>Something that happens to a bottle.</summary>
    public static HistoryStep Event(
        DateTimeOffset at, string bottle, BottleEventKind kind, string by, double? litres = null, string? note = null) =>
        new(at, (d, token) => d.Books.EnterAsync(
            by, (books, stamp) => [new BottleEvent(stamp(), BookKeeper.Bottle(books, bottle).Id, kind, litres)], token, note: note));
}
