namespace Acquire.Bench.Books;

/// <summary>
/// What is meant when nothing is named: the bottles and the line of the last use. A use of the same session is taken as it is; an older one
/// only for what nothing else of its kind could be meant by.
/// </summary>
/// <param name="Bottles">The bottles; empty when it is not clear.</param>
/// <param name="Line">The line; null when it is not clear.</param>
/// <param name="IsWhole">Whether every bottle of the last use is there, or the only one that took its place.</param>
public sealed record LastUsed(ImmutableArray<Bottle> Bottles, ProcessLine? Line, bool IsWhole)
{
    /// <summary>How long a use counts as one of the same session.</summary>
    public static readonly TimeSpan Session = TimeSpan.FromHours(12);

    /// <summary>What was used last before a moment.</summary>
    public static LastUsed Of(Ledger books, DateTimeOffset at, string? processKey = null)
    {
        var inUse = books.BottlesInUse(at).Where(b => Fits(books.SolutionIn(b).ProcessKey)).ToImmutableArray();
        var lines = books.Lines.Where(l => Fits(l.ProcessKey)).ToImmutableArray();
        var uses = books.Uses.Where(u => u.HappenedAt <= at).Reverse().ToList();
        var lastOfBottles = uses.FirstOrDefault(u => u.BottleIds.Any(b => Fits(Mix(books.Get<Bottle>(b)).ProcessKey)));
        var lastOfLines = uses.FirstOrDefault(u => lines.Any(l => u.LineId == l.Id));

        var bottles = lastOfBottles is null
            ? inUse.Length == 1 ? [inUse[0]] : ImmutableArray<Bottle?>.Empty
            : lastOfBottles.BottleIds.Select(books.Get<Bottle>).Select(b => Meant(b, IsSession(lastOfBottles))).ToImmutableArray();
        var line = lastOfLines is not null && (IsSession(lastOfLines) || lines.Length == 1)
            ? lines.First(l => l.Id == lastOfLines.LineId)
            : lines.Length == 1 ? lines[0] : null;
        return new LastUsed([.. bottles.OfType<Bottle>().Distinct()], line, !bottles.Contains(null));

        // A bottle of the session itself, or else the only one that does the same.
        Bottle? Meant(Bottle used, bool session) => session && inUse.Contains(used) ? used
            : inUse.Where(b => (Mix(b).Kind, Mix(b).ProcessKey) == (Mix(used).Kind, Mix(used).ProcessKey)).ToList() is [var only]
                ? only
                : null;

        Solution Mix(Bottle bottle) => books.SolutionIn(bottle);
        bool Fits(string key) => processKey is null || BookNames.Same(key, processKey);
        bool IsSession(FilmUse use) => at - use.HappenedAt <= Session;
    }

    /// <summary>
    /// The one bottle at hand at a moment: that of the last entry of the session, or else the only one in use; null when it is not clear.
    /// </summary>
    public static Bottle? AtHand(Ledger books, DateTimeOffset at)
    {
        var inUse = books.BottlesInUse(at).ToList();
        var last = books.Standing
            .Where(e => e.HappenedAt <= at && at - e.HappenedAt <= Session)
            .Select(e => BottleIds(e).Select(id => inUse.Find(b => b.Id == id)).OfType<Bottle>().ToList())
            .LastOrDefault(b => b.Count > 0);
        return last is [var one] ? one : last is null && inUse is [var only] ? only : null;

        static IEnumerable<Guid> BottleIds(BookEntry entry) => entry switch
        {
            Bottle bottle => [bottle.Id],
            BottleEvent happened => [happened.BottleId],
            FilmUse use => use.BottleIds,
            _ => [],
        };
    }
}
