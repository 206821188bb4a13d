using Acquire.Analysis.Control;
using Acquire.Bench.Books;
using Acquire.Bench.History;

namespace Acquire.Bench.Life;

/// <summary>A history as one kind of solution saw it: ages, areas and storage are those of the bottle of that kind.</summary>
/// <param name="Kind">The kind.</param>
/// <param name="Strips">The strips that ran in such a solution, and those of which the books know no bottle at all, without an age.</param>
/// <param name="WithoutSuch">Strips left out because none of the bottles they ran in is of this kind.</param>
/// <param name="Sudden">Strips left out because something sudden had happened, see <see cref="SuddenFaults"/>.</param>
public sealed record SolutionStrips(SolutionKind Kind, ImmutableArray<StripPoint> Strips, int WithoutSuch, int Sudden)
{
    /// <summary>Looks at a history.</summary>
    /// <param name="history">The history.</param>
    /// <param name="kind">The kind; null for the developer that the newest strip ran in.</param>
    /// <param name="zone">The local time zone.</param>
    public static SolutionStrips Of(StripHistory history, SolutionKind? kind, TimeZoneInfo zone)
    {
        ArgumentNullException.ThrowIfNull(history);
        var books = history.Books;
        var ran = history.Records
            .Zip(history.Strips, (record, point) => (Record: record, Point: point, Bottles: Bottles(books, record, zone)))
            .ToList();
        var wanted = kind
            ?? ran.SelectMany(r => r.Bottles).Select(books.SolutionIn).LastOrDefault(s => s.IsDeveloper)?.Kind ?? SolutionKind.Developer;
        var seen = ran.Select(r => r.Bottles.IsEmpty ? r.Point with { AgeDays = null }
            : r.Bottles.FirstOrDefault(b => books.SolutionIn(b).Kind == wanted) is { } bottle ? With(
                r.Point, books, bottle, r.Record.Id, zone)
            : null).ToList();
        var sudden = SuddenFaults.Of(history);
        return new SolutionStrips(
            wanted, [.. seen.OfType<StripPoint>().Where(s => !sudden.Contains(s.StripId))],
            seen.Count(s => s is null), seen.Count(s => s is not null && sudden.Contains(s.StripId)));
    }

    /// <summary>A bottle's name, with the day it was filled where several bore the name in turn.</summary>
    public static string NameOf(Ledger books, Bottle bottle, TimeZoneInfo zone)
    {
        ArgumentNullException.ThrowIfNull(books);
        ArgumentNullException.ThrowIfNull(bottle);
        return books.Bottles.Count(b => BookNames.Same(b.Name, bottle.Name)) == 1 ? bottle.Name
            : FormattableString.Invariant($"{bottle.Name} of {TimeZoneInfo.ConvertTime(bottle.HappenedAt, zone):yyyy-MM-dd}");
    }

    /// <summary>The bottles that the strip's use names, and the developer's that its record names.</summary>
    private static ImmutableArray<Bottle> Bottles(Ledger books, StripRecord strip, TimeZoneInfo zone)
    {
        var used = books.Uses.LastOrDefault(u => u.StripId == strip.Id)?.BottleIds.Select(books.Get<Bottle>) ?? [];
        return [.. used.Append(StripContext.Of(books, strip, null, zone)?.Bottle?.Bottle).OfType<Bottle>().Distinct()];
    }

    private static StripPoint With(StripPoint point, Ledger books, Bottle bottle, Guid stripId, TimeZoneInfo zone)
    {
        var state = books.At(bottle, point.At, exceptStrip: stripId);
        return point with
        {
            Bottle = NameOf(books, bottle, zone),
            Solution = state.Solution.Name,
            Storage = HistoryBooks.Storage(state),
            AgeDays = state.Age?.TotalDays,
            OpenDays = state.SinceOpening?.TotalDays,
            AreaPerLitre = state.AreaPerLitre,
        };
    }
}
