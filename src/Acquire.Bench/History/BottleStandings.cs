using Acquire.Analysis.Life;

namespace Acquire.Bench.History;

/// <summary>The bottles of developer in use in the line of a history, each with where it stands by the strips of its process.</summary>
public static class BottleStandings
{
    /// <summary>Finds them.</summary>
    /// <param name="history">The strips of one process, with the books.</param>
    /// <param name="study">What they tell of the life of the developer.</param>
    public static ImmutableArray<(BottleState State, BottleStanding Standing)> Of(StripHistory history, LifeStudy study, DateTimeOffset now)
    {
        return
        [
            .. from state in DevelopersInUse(history.Books, now)
               where string.Equals(state.Solution.ProcessKey, history.Sheet.Key, StringComparison.OrdinalIgnoreCase)
                   && history.IsOfLine(state.Bottle)
               select (state, BottleStanding.Of(
                   study, state.Bottle.Name, state.Age!.Value.TotalDays, HistoryBooks.Storage(state))),
        ];
    }

    /// <summary>The bottles of developer in use, of every process.</summary>
    public static IEnumerable<BottleState> DevelopersInUse(Ledger books, DateTimeOffset now) =>
        books.BottlesInUse(now).Select(b => books.At(b, now)).Where(s => s.Solution.IsDeveloper && s.Age is not null);
}
