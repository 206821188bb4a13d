using Acquire.Bench.Books;

namespace Acquire.Rendering.Books;

/// <summary>Lines for people and for programs.</summary>
internal static class LineReport
{
    public static void WriteList(IAnsiConsole console, ImmutableArray<LineState> lines, TimeProvider time, bool json)
    {
        console.WriteList(
            lines, json, BookJson.Of, "No process lines yet. Add one: acquire line add \"dip tank\" --process c41 --kind dip-tank",
            ["line", "kind", "process", "method in force", "since", "film", "last used"],
            state =>
            [
                state.Line.Name,
                EntryText.Word(state.Line.Kind),
                state.Line.ProcessKey,
                EntryText.Method(state.Agitation, state.Temperature, state.Time),
                state.MethodSince is { } since ? Numbers.Moment(since, time) : "",
                state.AreaUsed > 0 ? EntryText.Area(state.AreaUsed) : "none",
                state.LastUsed is { } used ? Numbers.Moment(used, time) : "never",
            ]);
    }

    public static void WriteOne(IAnsiConsole console, LineView view, TimeProvider time, bool json)
    {
        var state = view.State;
        if (json)
        {
            JsonOutput.Write(console, BookJson.Of(view));
            return;
        }

        var method = EntryText.Method(state.Agitation, state.Temperature, state.Time);
        console.Line($"Line {state.Line.Name}: {EntryText.Word(state.Line.Kind)}, {state.Line.ProcessKey}");
        console.Line(method.Length > 0 ? $"Method: {method}, since {Numbers.Moment(state.MethodSince!.Value, time)}" : "No method noted.");
        console.Line($"Film: {(state.AreaUsed > 0 ? EntryText.Area(state.AreaUsed) : "none")}"
            + (state.LastUsed is { } used ? $", last on {Numbers.Moment(used, time)}" : ""));
        if (state.Line.Note is { } note)
        {
            console.Line($"Note: {note}");
        }

        if (!view.Methods.IsEmpty)
        {
            EntryReport.Write(console, new EntryView(view.Methods, view.Books), time, json: false);
        }
    }
}
