using System.Text.Json;

namespace Acquire.Bench.Books;

/// <summary>Entries, ages and states of the books in words.</summary>
public static class EntryText
{
    /// <summary>What an entry says, without its time.</summary>
    public static string Of(Ledger books, BookEntry entry) => entry switch
    {
        ProcessLine line => $"line {line.Name} ({Word(line.Kind)}, {line.ProcessKey})",
        LineMethod method =>
            $"method of {books.Get<ProcessLine>(method.LineId).Name}: {Method(method.Agitation, method.Temperature, method.Time)}",
        Solution mix => $"mixed {mix.Name}, {Litres(mix.Volume)} of {Word(mix.Kind)}"
            + (mix.ConcentrateLot is { } lot ? $", concentrate lot {lot}" : ""),
        Bottle bottle => $"bottle {bottle.Name} filled with {Litres(bottle.Volume)} of {books.SolutionIn(bottle).Name}"
            + Behind(Storage(bottle.Storage)),
        BottleEvent e => $"bottle {books.Get<Bottle>(e.BottleId).Name} {Word(e.Kind)}"
            + (e.Volume is { } volume ? $", {Litres(volume)}" : "") + (e.Storage is { } storage ? Behind(Storage(storage)) : ""),
        FilmUse use => Use(books, use),
        StockMove move =>
            $"lot {move.LotCode}: {Numbers.Count(move.Strips, "strip")} {Word(move.Kind)}",
        BookEvent e => (e.Text == Word(e.Kind) ? e.Text : $"{Word(e.Kind)}: {e.Text}")
            + (e.LineId is { } line ? $", line {books.Get<ProcessLine>(line).Name}" : "")
            + (e.BottleId is { } bottle ? $", bottle {books.Get<Bottle>(bottle).Name}" : ""),
        Withdrawal withdrawal => $"withdrawn ({withdrawal.Reason}): {Of(books, books.Get<BookEntry>(withdrawal.WithdrawnId))}",
        _ => throw new InvalidOperationException($"No words for {entry.GetType().Name}."),
    };

    /// <summary>A volume, such as <c>0.5 L</c> or <c>300 mL</c>.</summary>
    public static string Litres(double litres) => litres < 0.9995 && litres > 0
        ? string.Create(CultureInfo.InvariantCulture, $"{litres * 1000:0.#} mL")
        : string.Create(CultureInfo.InvariantCulture, $"{litres:0.###} L");

    /// <summary>An area, such as <c>0.61 m² (11.8 rolls)</c>; a roll is 80 in².</summary>
    public static string Area(double area) => string.Create(
        CultureInfo.InvariantCulture,
        $"{area:0.00#} m² ({area / FilmFormat.Roll:0.0} {(Math.Round(area / FilmFormat.Roll, 1) == 1 ? "roll" : "rolls")})");

    /// <summary>How a solution is kept; empty when nothing is known.</summary>
    public static string Storage(BottleStorage storage) => string.Join(", ", new[]
    {
        storage.Container,
        storage.Capacity is { } capacity ? $"holds {Litres(capacity)}" : null,
        storage.Gas is { } gas ? $"{gas} above" : null,
        storage.Temperature is { } temperature ? Celsius(temperature) : null,
    }.OfType<string>());

    /// <summary>A method; empty when nothing is known.</summary>
    public static string Method(string? agitation, double? temperature, TimeSpan? time) => string.Join(", ", new[]
    {
        agitation,
        temperature is { } celsius ? Celsius(celsius) : null,
        time is { } given ? Minutes(given) : null,
    }.OfType<string>());

    /// <summary>The word of a kind, such as <c>first developer</c>.</summary>
    public static string Word<T>(T kind)
        where T : struct, Enum => kind is LineKind.BenchTopMachine
            ? "bench-top machine"
            : JsonNamingPolicy.KebabCaseLower.ConvertName(kind.ToString()).Replace('-', ' ');

    /// <summary>The word of an entry's kind, such as <c>film use</c>.</summary>
    public static string Word(BookEntry entry) => JsonNamingPolicy.KebabCaseLower.ConvertName(entry.GetType().Name).Replace('-', ' ');

    /// <summary>An age as people say it: <c>12 days</c>, <c>5 h</c>, <c>20 min</c>.</summary>
    public static string Age(TimeSpan age) => age switch
    {
        { TotalHours: < 1 } => string.Create(CultureInfo.InvariantCulture, $"{Math.Floor(age.TotalMinutes):0} min"),
        { TotalHours: < 48 } => string.Create(CultureInfo.InvariantCulture, $"{Math.Floor(age.TotalHours):0} h"),
        _ => string.Create(CultureInfo.InvariantCulture, $"{Math.Floor(age.TotalDays):0} days"),
    };

    /// <summary>One line about a bottle at a moment.</summary>
    public static string Line(BottleState state)
    {
        var through = state.Filled + state.ToppedUp > 0 ? $" through {Litres(state.Filled + state.ToppedUp)}" : "";
        return $"Bottle {state.Bottle.Name}: {Mixed(state)}, {Opened(state)}, "
            + (state.AreaUsed > 0 ? $"{Area(state.AreaUsed)}{through}" : "no film yet")
            + (state.DiscardedAt is null ? "" : ", discarded");
    }

    public static string Mixed(BottleState state) => state.Age is { } age ? $"mixed {Age(age)} before" : "not yet mixed";

    public static string Opened(BottleState state) => state.SinceOpening is { } open ? $"open {Age(open)}" : "not opened";

    /// <summary>One line about a line's method at a moment; null when none is known.</summary>
    public static string? Line(LineState state) =>
        Method(state.Agitation, state.Temperature, state.Time) is { Length: > 0 } method ? $"Line {state.Line.Name}: {method}" : null;

    /// <summary>How full, such as <c>700 mL of 1 L</c>.</summary>
    public static string Fill(BottleState state) => state.Storage.Capacity is { } capacity
        ? string.Create(CultureInfo.InvariantCulture, $"{Litres(state.Left)} of {Litres(capacity)} ({state.FillShare:0%})")
        : Litres(state.Left);

    private static string Minutes(TimeSpan time) =>
        string.Create(CultureInfo.InvariantCulture, $"{(int)time.TotalMinutes}:{time.Seconds:00} min");

    private static string Celsius(double temperature) => string.Create(CultureInfo.InvariantCulture, $"{temperature:0.0#} °C");

    private static string Behind(string words) => words.Length == 0 ? "" : $" ({words})";

    private static string Use(Ledger books, FilmUse use)
    {
        var films = string.Join(" + ", use.Films.Select(f => f.Format == "area"
            ? "film" : string.Create(CultureInfo.InvariantCulture, $"{f.Count} × {f.Format}")));
        var through = use.BottleIds.IsEmpty ? "" : $" through {string.Join(", ", use.BottleIds.Select(b => books.Get<Bottle>(b).Name))}";
        return $"{films}, {Area(use.Area)}{through}" + (use.LineId is { } line ? $" in {books.Get<ProcessLine>(line).Name}" : "");
    }
}
