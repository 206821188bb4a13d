using Acquire.Bench.Books;

namespace Acquire.Rendering.Books;

/// <summary>Mixes for people and for programs.</summary>
internal static class SolutionReport
{
    public static void WriteList(IAnsiConsole console, Ledger books, ImmutableArray<Solution> mixes, TimeProvider time, bool json)
    {
        var now = time.GetUtcNow();
        if (json)
        {
            JsonOutput.Write(console, mixes.Select(m => Row(books, m, now)));
            return;
        }

        if (mixes.IsEmpty)
        {
            console.Line("No mixes yet. Enter one: acquire solution mix dev1 1L --process c41");
            return;
        }

        var table = Tables.New("solution", "kind", "process", "mixed", "age", "volume", "concentrate", "bottles");
        foreach (var mix in mixes)
        {
            table.Row(
                mix.Name,
                EntryText.Word(mix.Kind),
                mix.ProcessKey,
                Numbers.Moment(mix.HappenedAt, time),
                mix.HappenedAt <= now ? EntryText.Age(now - mix.HappenedAt) : "not yet",
                EntryText.Litres(mix.Volume),
                mix.ConcentrateLot ?? "",
                string.Join(", ", Bottles(books, mix).Select(b => b.Name)));
        }

        console.WriteTable(table);
    }

    public static void WriteOne(IAnsiConsole console, Ledger books, Solution mix, TimeProvider time, bool json)
    {
        var now = time.GetUtcNow();
        var bottles = Bottles(books, mix).Select(b => books.At(b, now)).ToImmutableArray();
        if (json)
        {
            JsonOutput.Write(console, new { Solution = Row(books, mix, now), Bottles = bottles.Select(BookJson.Of) });
            return;
        }

        console.Line($"Solution {mix.Name}: {EntryText.Word(mix.Kind)}, {mix.ProcessKey}, {EntryText.Litres(mix.Volume)}, mixed "
            + $"{Numbers.Moment(mix.HappenedAt, time)} by {mix.Stamp.By}"
            + (mix.ConcentrateLot is { } lot ? $", concentrate lot {lot}" : ""));
        if (mix.Note is { } note)
        {
            console.Line($"Note: {note}");
        }

        if (bottles.IsEmpty)
        {
            console.Line("Not in bottles yet.");
            return;
        }

        BottleReport.WriteList(console, bottles, time, json: false);
    }

    private static IEnumerable<Bottle> Bottles(Ledger books, Solution mix) => books.Bottles.Where(b => b.SolutionId == mix.Id);

    private static object Row(Ledger books, Solution mix, DateTimeOffset now) => new
    {
        mix.Id,
        mix.Name,
        mix.Kind,
        Process = mix.ProcessKey,
        MixedAt = mix.HappenedAt,
        AgeDays = mix.HappenedAt <= now ? (double?)(now - mix.HappenedAt).TotalDays : null,
        VolumeLitres = mix.Volume,
        mix.ConcentrateLot,
        mix.Note,
        Bottles = Bottles(books, mix).Select(b => b.Name),
    };
}
