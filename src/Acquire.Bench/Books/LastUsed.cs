using System.Collections.Immutable;
using Acquire.Domain.Books;

namespace Acquire.Bench.Books;

/// <summary>
/// What is meant when nothing is named: the bottles and the line of the last use. A use of the same session is taken as it is; an older one
/// only for what nothing else of its kind could be meant by.
/// </summary>
/// <param name="Bottles">The bottles; empty when it is not clear.</param>
/// <param name="Line">The line; null when it is not clear.</param>
/// <param name="At">When they were used last; null when they are the only ones there are.</param>
public sealed record LastUsed(ImmutableArray<Bottle> Bottles, ProcessLine? Line, DateTimeOffset? At)
{
    /// <summary>How long a use counts as one of the same session.</summary>
    public static readonly TimeSpan Session = TimeSpan.FromHours(12);

    /// <summary>What was used last before a moment.</summary>
    public static LastUsed Of(Ledger books, DateTimeOffset at, string? processKey = null)
    {
        var inUse = books.BottlesInUse(at).Where(b => Fits(books.SolutionIn(b).ProcessKey)).ToImmutableArray();
        var lines = books.Lines.Where(l => Fits(l.ProcessKey)).ToImmutableArray();
        var uses = books.Uses.Where(u => u.HappenedAt <= at).Reverse().ToList();
        var lastOfBottles = uses.FirstOrDefault(u => inUse.Any(b => u.BottleIds.Contains(b.Id)));
        var lastOfLines = uses.FirstOrDefault(u => lines.Any(l => u.LineId == l.Id));

        var bottles = lastOfBottles is null
            ? inUse.Length == 1 ? inUse : []
            : inUse.Where(b => lastOfBottles.BottleIds.Contains(b.Id) && (IsSession(lastOfBottles) || inUse.Count(o => SameKind(o, b)) == 1)).ToImmutableArray();
        var line = lastOfLines is not null && (IsSession(lastOfLines) || lines.Length == 1)
            ? lines.First(l => l.Id == lastOfLines.LineId)
            : lines.Length == 1 ? lines[0] : null;
        return new LastUsed(bottles, line, lastOfBottles?.HappenedAt ?? lastOfLines?.HappenedAt);

        bool Fits(string key) => processKey is null || BookNames.Same(key, processKey);
        bool IsSession(FilmUse use) => at - use.HappenedAt <= Session;
        bool SameKind(Bottle one, Bottle other) =>
            (books.SolutionIn(one).Kind, books.SolutionIn(one).ProcessKey) == (books.SolutionIn(other).Kind, books.SolutionIn(other).ProcessKey);
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
