using Acquire.Instruments.Simulation;

namespace DemoTerm;

/// <summary>The evenings of the class: a control strip before the film, a second one where the first is out.</summary>
internal static class ClassEvenings
{
    /// <summary>The first evening with strips of both lots.</summary>
    public const int FirstPair = 9;

    /// <summary>The first evening with strips of the new lot alone.</summary>
    public const int FirstOfNewLot = 12;

    private const long Stream = 7_000_003;
    private const int Scratched = 7;

    private static readonly ImmutableDictionary<int, EveningTrouble> Troubles = ImmutableDictionary.CreateRange<int, EveningTrouble>(
    [
        new(3, new(Trouble.Of("light-fog"), "D-min up in all colours", "a second strip from the same box", IsConfirmed: false)),
        new(5, new(
            new(FilmStories.FixerInDeveloper),
            "racks were swapped before this strip",
            "the same developer again; no film tonight",
            IsConfirmed: true)),
        new(17, new(Trouble.Of("hot-developer", 0.6), "fresh developer", null, IsConfirmed: true)),
        new(18, new(Trouble.Of("hot-developer", 1.0), "everything a little high; thermometer reads 37.8 °C", null, IsConfirmed: true)),
        new(19, new(Trouble.Of("hot-developer", 1.3), "higher still", "higher still: thermometer or time", IsConfirmed: true)),
    ]);

    /// <summary>The steps.</summary>
    public static IEnumerable<HistoryStep> Of(TermCalendar term, int seed) =>
        Enumerable.Range(0, TermCalendar.Evenings).SelectMany(e => Evening(term, e, new SeededChance(seed, Stream + e)));

    private static IEnumerable<HistoryStep> Evening(TermCalendar term, int evening, SeededChance chance)
    {
        var trouble = Troubles.GetValueOrDefault(evening);
        var plan = new StripPlan(
            NameOf(evening), evening < FirstOfNewLot ? HistoryLot.Old : HistoryLot.New,
            Places.DipTank, ClassBaths.On(evening), term.Evening(evening, 18, 5), People.Tutor)
        {
            Trouble = trouble?.What,
            Note = trouble?.Note,
            Handling = (evening % 4) switch { 0 =>
                "warmed up 30 min closed; bottom of the rack; 37.8 °C at start and end", 2 => "middle of the rack", _ => null },
            Scratched = evening == Scratched ? DemoFilm.High : null,
        };
        yield return HistoryStep.Read(term.Evening(evening, 18, 50), plan);
        if (evening is >= FirstPair and < FirstOfNewLot)
        {
            yield return HistoryStep.Read(term.Evening(evening, 18, 56), plan with
            {
                Name = plan.Name + " pair", Lot = HistoryLot.New, PairedWith = plan.Name, Note = "crossover", Handling = null,
            });
        }

        if (trouble is { Second: { } second })
        {
            yield return HistoryStep.Read(term.Evening(evening, 19, 55), plan with
            {
                Name = plan.Name + " second",
                RanAt = term.Evening(evening, 19, 10),
                Trouble = trouble.IsConfirmed ? trouble.What : null,
                Confirms = plan.Name,
                Note = second,
                Handling = null,
            });
        }

        if (trouble?.What.Story != FilmStories.FixerInDeveloper)
        {
            yield return Film(term.Evening(evening, 20, 5), plan.Baths, Rolls(chance));
        }
    }

    private static HistoryStep Film(
        DateTimeOffset at, ImmutableArray<string> baths, ImmutableArray<FilmCount> films) => new(at, (d, token) => d.Books.EnterAsync(
        People.Assistant,
        (books, stamp) => [new FilmUse(
            stamp(), films, [.. BookKeeper.Bottles(books, baths).Select(b => b.Id)], BookKeeper.Line(books, Places.DipTank).Id)],
        token));

    /// <summary>Four to ten rolls.</summary>
    private static ImmutableArray<FilmCount> Rolls(SeededChance chance) =>
    [
        FilmCount.Of(FilmFormat.Find("135-36")!, 2 + chance.Below(5)),
        FilmCount.Of(FilmFormat.Find("135-24")!, 1 + chance.Below(2)),
        FilmCount.Of(FilmFormat.Find("120")!, 1 + chance.Below(2)),
    ];

    private static string NameOf(int evening) => $"class {evening}";

    private sealed record EveningTrouble(Trouble What, string Note, string? Second, bool IsConfirmed);
}
