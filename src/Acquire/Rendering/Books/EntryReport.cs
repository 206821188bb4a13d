using Acquire.Bench.Books;
using Acquire.Storage.Strips;

namespace Acquire.Rendering.Books;

/// <summary>Entries, a line each.</summary>
internal static class EntryReport
{
    public static void Write(
        IAnsiConsole console, Ledger books, ImmutableArray<BookEntry> entries, TimeProvider time, bool json, string whenEmpty)
    {
        if (json)
        {
            JsonOutput.Write(console, entries.Select(e => BookJson.Of(books, e)));
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
            var late = entry.Stamp.EnteredAt - entry.HappenedAt > TimeSpan.FromMinutes(1) ? Numbers.Moment(entry.Stamp.EnteredAt, time) : "";
            table.Row(Numbers.Moment(entry.HappenedAt, time), EntryText.Of(books, entry) + note + mark, entry.Stamp.By, late, StripId.ShortForm(entry.Id));
        }

        console.WriteTable(table);
    }
}
