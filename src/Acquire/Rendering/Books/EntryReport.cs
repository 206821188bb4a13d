using Acquire.Bench.Books;

namespace Acquire.Rendering.Books;

/// <summary>Entries, a line each.</summary>
internal static class EntryReport
{
    public static void Write(IAnsiConsole console, EntryView view, TimeProvider time, bool json, string whenEmpty = "")
    {
        var (entries, books) = view;
        if (json)
        {
            JsonOutput.Write(console, BookJson.Of(view));
            return;
        }

        if (entries.IsEmpty)
        {
            console.Line(whenEmpty);
            return;
        }

        var standing = books.Standing.Select(e => e.Id).ToHashSet();
        var table = Tables.New("when", "what", "by", "entered", "entry");
        // Where it is narrow, the text gives way and not the ids.
        table.Columns[1].NoWrap = false;
        foreach (var entry in entries)
        {
            var mark = entry is Withdrawal || standing.Contains(entry.Id) ? "" : " [withdrawn]";
            var note = entry.Note is { Length: > 0 } text ? $" ({text})" : "";
            var isLate = entry.Stamp.EnteredAt - entry.HappenedAt > TimeSpan.FromMinutes(1);
            table.Row(
                Numbers.Moment(entry.HappenedAt, time),
                EntryText.Of(books, entry) + note + mark,
                entry.Stamp.By,
                isLate ? Numbers.Moment(entry.Stamp.EnteredAt, time) : "",
                StripId.ShortForm(entry.Id));
        }

        console.WriteTable(table);
    }
}

/// <summary>What was just entered, what follows from it, and what looks wrong about it.</summary>
internal static class EnteredReport
{
    public static void Write(Surroundings surroundings, Entered entered)
    {
        surroundings.Error.Lines(entered.Taken);
        foreach (var entry in entered.Entries)
        {
            surroundings.Out.Line($"{Numbers.Moment(entry.HappenedAt, surroundings.Time)}  {EntryText.Of(entered.Books, entry)}");
        }

        surroundings.Error.Lines(entered.Warnings);
        surroundings.Out.Lines(entered.Entries.SelectMany(e => After(entered.Books, e)));
    }

    private static IEnumerable<string> After(Ledger books, BookEntry entry)
    {
        return entry switch
        {
            Solution mix =>
            [
                "Next, the bottles it went into: acquire bottle fill NAME --volume "
                    + EntryText.Litres(mix.Volume).Replace(" ", "", StringComparison.Ordinal),
            ],
            BottleEvent { Kind: not BottleEventKind.Discarded } e => [State(e.BottleId)],
            FilmUse use => use.BottleIds.Select(State),
            _ => [],
        };

        string State(Guid bottle) => EntryText.Line(books.At(books.Get<Bottle>(bottle), entry.HappenedAt));
    }
}

/// <summary>The film formats built in, with where their areas come from.</summary>
internal static class FormatReport
{
    public static void Write(IAnsiConsole console, bool json)
    {
        if (json)
        {
            JsonOutput.Write(console, FilmFormat.All.Select(BookJson.Of));
            return;
        }

        var table = Tables.New("format", "what", "m²", "rolls of 80 in²", "basis");
        foreach (var format in FilmFormat.All)
        {
            table.Row(
                format.Key,
                format.Name,
                format.Area.ToString("0.0000", CultureInfo.InvariantCulture),
                (format.Area / FilmFormat.Roll).ToString("0.00", CultureInfo.InvariantCulture),
                format.Basis);
        }

        console.WriteTable(table);
        console.Line("Any other area: acquire use 0.2m2, or 80in2");
    }
}
