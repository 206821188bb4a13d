using Acquire.Analysis.Control;
using Acquire.Analysis.Life;
using Acquire.Analysis.Statistics;
using Acquire.Bench.Books;
using Acquire.Bench.History;

namespace Acquire.Bench.Life;

/// <summary>The life of a kind of solution with the bottles in use.</summary>
/// <param name="History">The strips it rests on.</param>
/// <param name="Seen">Those strips as the solution saw them.</param>
/// <param name="Storage">The way of keeping that was asked for; null for the commonest.</param>
/// <param name="ByStorage">A study for each way of keeping; empty when there is one only, or one was asked for.</param>
/// <param name="Bottles">Where bottles stand.</param>
/// <param name="Comparisons">Comparisons in the leading parameter.</param>
public sealed record SolutionLife(
    StripHistory History,
    SolutionStrips Seen,
    string? Storage,
    LifeStudy Study,
    ImmutableArray<(string Storage, LifeStudy Study)> ByStorage,
    ImmutableArray<BottleStanding> Bottles,
    ImmutableArray<LifeComparison> Comparisons)
{
    /// <summary>What every answer ends with.</summary>
    public const string Last =
        "By control strips only: the next strip overrules all of it, and nothing is said of how a solution may be handled.";

    /// <summary>The solution and how it is kept.</summary>
    public string What =>
        $"the {EntryText.Word(Seen.Kind)}"
        + (Storage ?? Study.Reckoned) switch
        {
            null => "",
            LifeStudy.NotTold => " in bottles of which the books do not tell how they are kept",
            var kept => $" kept {kept}",
        };

    /// <summary>Why no life can be told, and nothing of the rest either; null when something can.</summary>
    public string? WhyNone => Study.Leading is null ? string.Join(' ', [LifeWords.HowLong(Study, What), .. LeftOut()]) : null;

    /// <summary>What the answers do not rest on, a sentence each.</summary>
    public IEnumerable<string> LeftOut()
    {
        if (Study.WithoutAge > 0)
        {
            yield return $"{Numbers.Count(Study.WithoutAge, "strip")} left out: the books do not tell the age of what they ran in.";
        }

        if (Seen.Sudden > 0)
        {
            yield return $"{Numbers.Count(Seen.Sudden, "strip")} left out: past a control limit with a second strip run beside, so "
                + "something sudden had happened.";
        }

        if (Seen.WithoutSuch > 0)
        {
            yield return $"{Numbers.Count(Seen.WithoutSuch, "strip")} left out: none of "
                + $"the bottles entered with them holds {EntryText.Word(Seen.Kind)}.";
        }

        if (History.OfOtherProcesses > 0)
        {
            yield return $"{Numbers.Count(History.OfOtherProcesses, "strip")} of other processes left out; --process chooses one.";
        }

        if (History.LeftOut > 0)
        {
            yield return $"{Numbers.Count(History.LeftOut, "strip")} left out: read again, or without aims.";
        }
    }

    /// <param name="time">The clock, for where bottles stand now.</param>
    /// <exception cref="BenchException">A storage or bottle is unknown, or the bottle is of another kind or process.</exception>
    /// <exception cref="ModelException">A comparison is asked for that the strips do not allow.</exception>
    public static SolutionLife Of(StripHistory history, LifeAsked asked, TimeProvider time)
    {
        var strips = SolutionStrips.Of(history, asked.Kind, time.LocalTimeZone);
        // Studied once without a choice, as only the strips tell which ways of keeping there are to choose from.
        var usual = LifeStudy.Of(strips.Strips, history.Sheet, kind: strips.Kind);
        var storage = asked.Storage is { } words ? Chosen(words, usual.Storages) : null;
        var study = storage is null ? usual : LifeStudy.Of(strips.Strips, history.Sheet, storage, strips.Kind);
        return new SolutionLife(
            history,
            strips,
            storage,
            study,
            storage is null && usual.Storages.Length > 1
                ? [.. usual.Storages.Select(s => (s, LifeStudy.Of(strips.Strips, history.Sheet, s, strips.Kind)))]
                : [],
            [.. Wanted(history, strips.Kind, asked.Bottle, time).Select(b => Standing(history.Books, b, study, time))],
            Compared(study, asked));
    }

    private static ImmutableArray<LifeComparison> Compared(LifeStudy study, LifeAsked asked) => (study.Leading, asked.Compare) switch
    {
        (null, null) => [],
        (null, _) => throw new ModelException(LifeWords.HowLong(study, "the solution")),
        ({ } leading, null) => LifeComparison.All(leading, asked.See),
        ({ } leading, { } factor) => [LifeComparison.Of(leading, factor, asked.See)],
    };

    private static string Chosen(string words, ImmutableArray<string> storages)
    {
        if (storages.FirstOrDefault(s => BookNames.Same(s, words)) is { } exact)
        {
            return exact;
        }

        var parts = Parts(words);
        return storages.Where(s => parts.All(p => Parts(s).Contains(p, StringComparer.OrdinalIgnoreCase))).ToList() switch
        {
            [var one] => one,
            [] when storages.IsEmpty => throw new BenchException(
                "The books tell of no way of keeping. Say it when a bottle is filled: acquire bottle fill NAME --container glass --full"),
            [] => throw new BenchException($"No strip ran in a bottle kept '{words}'; the strips have {string.Join("; ", storages)}."),
            var several => throw new BenchException(
                $"'{words}' fits more than one way of keeping: {string.Join("; ", several)}. Give more of it, with commas between."),
        };
    }

    private static string[] Parts(string words) => words.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);

    private static IEnumerable<Bottle> Wanted(StripHistory history, SolutionKind kind, string? named, TimeProvider time)
    {
        var (books, now) = (history.Books, time.GetUtcNow());
        if (named is null)
        {
            return books.BottlesInUse(now).Where(b => Fits(books.SolutionIn(b)) && history.IsOfLine(b));
        }

        var bottle = BookNames.Bottle(books, named, now);
        var mix = books.SolutionIn(bottle);
        return Fits(mix) ? [bottle]
            : throw new BenchException($"Bottle {bottle.Name} holds {mix.Name}, {EntryText.Word(mix.Kind)} of {mix.ProcessKey}, and the "
                + $"life asked for is that of {EntryText.Word(kind)} of {history.Sheet.Key}.");

        bool Fits(Solution solution) => solution.Kind == kind && BookNames.Same(solution.ProcessKey, history.Sheet.Key);
    }

    private static BottleStanding Standing(Ledger books, Bottle bottle, LifeStudy study, TimeProvider time)
    {
        var state = books.At(bottle, time.GetUtcNow());
        return BottleStanding.Of(
            study, SolutionStrips.NameOf(books, bottle, time.LocalTimeZone), state.Age?.TotalDays ?? 0, HistoryBooks.Storage(state));
    }
}

/// <summary>A history as one kind of solution saw it: ages, areas and storage are those of the bottle of that kind.</summary>
/// <param name="Strips">The strips that ran in such a solution, and those of which the books know no bottle at all, without an age.</param>
/// <param name="WithoutSuch">Strips left out because none of the bottles they ran in is of this kind.</param>
/// <param name="Sudden">Strips left out because something sudden had happened, see <see cref="SuddenFaults"/>.</param>
public sealed record SolutionStrips(SolutionKind Kind, ImmutableArray<StripPoint> Strips, int WithoutSuch, int Sudden)
{
    /// <param name="kind">The kind; null for the developer that the newest strip ran in.</param>
    /// <param name="zone">The local time zone.</param>
    public static SolutionStrips Of(StripHistory history, SolutionKind? kind, TimeZoneInfo zone)
    {
        var books = history.Books;
        var ran = history.Records
            .Zip(history.Strips, (record, point) => (Record: record, Point: point, Bottles: Bottles(books, record, zone)))
            .ToList();
        var wanted = kind
            ?? ran.SelectMany(r => r.Bottles).Select(books.SolutionIn).LastOrDefault(s => s.IsDeveloper)?.Kind ?? SolutionKind.Developer;
        var seen = ran.Select(r => r.Bottles.IsEmpty ? r.Point with { AgeDays = null }
            : r.Bottles.FirstOrDefault(b => books.SolutionIn(b).Kind == wanted) is { } bottle
                ? With(r.Point, books, bottle, r.Record.Id, zone)
            : null).ToList();
        // Where the books know no bottle the strip stays, without an age: the study counts it as left out instead of losing it unseen.
        var sudden = SuddenFaults.Of(history);
        return new SolutionStrips(
            wanted,
            [.. seen.OfType<StripPoint>().Where(s => !sudden.Contains(s.StripId))],
            seen.Count(s => s is null),
            seen.Count(s => s is not null && sudden.Contains(s.StripId)));
    }

    /// <summary>A bottle's name, with the day it was filled where several bore the name in turn.</summary>
    public static string NameOf(Ledger books, Bottle bottle, TimeZoneInfo zone)
    {
        return books.Bottles.Count(b => BookNames.Same(b.Name, bottle.Name)) == 1 ? bottle.Name
            : $"{bottle.Name} of {Numbers.Day(TimeZoneInfo.ConvertTime(bottle.HappenedAt, zone))}";
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
