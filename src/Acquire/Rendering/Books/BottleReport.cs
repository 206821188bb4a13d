using Acquire.Bench.Books;

namespace Acquire.Rendering.Books;

/// <summary>Bottles for people and for programs.</summary>
internal static class BottleReport
{
    public static void WriteList(IAnsiConsole console, ImmutableArray<BottleState> bottles, TimeProvider time, bool json)
    {
        if (json)
        {
            JsonOutput.Write(console, bottles.Select(BookJson.Of));
            return;
        }

        if (bottles.IsEmpty)
        {
            console.Line(
                "No bottle in use. Enter a mix, then its bottles: acquire solution mix dev1 1L --process c41, acquire bottle fill D1");
            return;
        }

        var table = Tables.New("bottle", "solution", "mixed", "age", "open", "film", "left", "kept");
        // Where it is narrow, the descriptions give way and not the names.
        table.Columns[1].NoWrap = false;
        table.Columns[^1].NoWrap = false;
        foreach (var state in bottles)
        {
            table.Row(
                state.Bottle.Name,
                state.Solution.Name,
                Numbers.Moment(state.Solution.HappenedAt, time),
                state.Age is { } age ? EntryText.Age(age) : "not yet",
                state.DiscardedAt is { } at
                    ? $"discarded {Numbers.Moment(at, time)}"
                    : state.SinceOpening is { } open ? EntryText.Age(open) : "closed",
                state.AreaUsed > 0 ? EntryText.Area(state.AreaUsed) : "none",
                EntryText.Fill(state),
                EntryText.Storage(new BottleStorage(state.Storage.Container, null, state.Storage.Gas, state.Storage.Temperature)));
        }

        console.WriteTable(table);
    }

    public static void WriteOne(IAnsiConsole console, BottleView view, TimeProvider time, bool json)
    {
        var state = view.State;
        if (json)
        {
            JsonOutput.Write(console, BookJson.Of(view));
            return;
        }

        console.Line($"Bottle {state.Bottle.Name}: {state.Solution.Name}, {EntryText.Word(state.Solution.Kind)}, "
            + $"{state.Solution.ProcessKey}; as of {Numbers.Moment(state.At, time)}");
        console.Line($"Mixed {Numbers.Moment(state.Solution.HappenedAt, time)}" + (state.Age is { } age
            ? $", {EntryText.Age(age)} old{(state.DiscardedAt is null ? "" : " when it was discarded")}"
            : ": still to come then")
            + (state.Solution.ConcentrateLot is { } lot ? $", concentrate lot {lot}" : ""));
        console.Line(state.OpenedAt is { } opened
            ? $"Opened {Numbers.Moment(opened, time)}, {EntryText.Age(state.SinceOpening!.Value)} "
                + $"{(state.DiscardedAt is null ? "ago" : "before it was discarded")}, {Numbers.Count(state.Openings, "time")}"
            : "Not opened");
        console.Line($"Film: {(state.AreaUsed > 0 ? EntryText.Area(state.AreaUsed) : "none")}"
            + (state is { AreaUsed: > 0, AreaPerLitre: { } each }
                ? string.Create(CultureInfo.InvariantCulture, $", {each / FilmFormat.Roll:0.0} rolls per litre")
                : ""));
        console.Line($"Left: {EntryText.Fill(state)}" + (state.Headspace is { } gas ? $", {EntryText.Litres(gas)} of gas above" : "")
            + (state.Overdrawn > 1e-9 ? $"; by the books {EntryText.Litres(state.Overdrawn)} more was poured than was there" : ""));
        if (EntryText.Storage(state.Storage) is { Length: > 0 } kept)
        {
            console.Line($"Kept: {kept}");
        }

        if (state.DiscardedAt is { } discarded)
        {
            console.Line($"Discarded {Numbers.Moment(discarded, time)}");
        }

        EntryReport.Write(console, new EntryView(view.History, view.Books), time, json: false);
    }
}

/// <summary>Mixes for people and for programs.</summary>
internal static class SolutionReport
{
    public static void WriteList(IAnsiConsole console, ImmutableArray<MixView> mixes, TimeProvider time, bool json)
    {
        if (json)
        {
            JsonOutput.Write(console, mixes.Select(BookJson.Of));
            return;
        }

        if (mixes.IsEmpty)
        {
            console.Line("No mixes yet. Enter one: acquire solution mix dev1 1L --process c41");
            return;
        }

        var table = Tables.New("solution", "kind", "process", "mixed", "age", "volume", "concentrate", "bottles");
        foreach (var (mix, age, bottles) in mixes)
        {
            table.Row(
                mix.Name,
                EntryText.Word(mix.Kind),
                mix.ProcessKey,
                Numbers.Moment(mix.HappenedAt, time),
                age is { } old ? EntryText.Age(old) : "not yet",
                EntryText.Litres(mix.Volume),
                mix.ConcentrateLot ?? "",
                string.Join(", ", bottles.Select(b => b.Bottle.Name)));
        }

        console.WriteTable(table);
    }

    public static void WriteOne(IAnsiConsole console, MixView view, TimeProvider time, bool json)
    {
        var (mix, _, bottles) = view;
        if (json)
        {
            JsonOutput.Write(console, BookJson.WithBottles(view));
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
}
