using Acquire.Analysis.Charts;

namespace Acquire.Rendering.Charts;

/// <summary>A chart for a terminal. Letters and figures carry all of it; colour only helps.</summary>
internal static class ChartText
{
    private const int LeastWidth = 60, LargestWidth = 160;

    public static void Write(IAnsiConsole console, ChartModel model)
    {
        // One column stays free: some terminals break a line that fills them.
        var width = Math.Clamp(console.Profile.Width - 1, LeastWidth, LargestWidth);
        console.Line(model.Title);
        console.Line(ChartWords.Extent(model));
        if (model.Strips > 0)
        {
            WriteWrapped(console, Legend(model), width);
            var axis = new TextAxis(model, width - TextAxis.Gutter - TextPanel.RightGutter(model));
            axis.Heading().Write(console);
            foreach (var panel in model.Panels)
            {
                console.Line("");
                WriteWrapped(console, ChartWords.Summary(panel) + (ChartWords.Natural(panel) is { } natural
                    ? $" {char.ToUpperInvariant(natural[0])}{natural[1..]} strips."
                    : ""), width);
                TextPanel.Of(panel, axis).Write(console);
            }

            console.Line("");
            console.Line($"Axis: {model.Axis.Title()}");
        }

        foreach (var line in model.Events
            .Select(ChartWords.Event)
            .Concat(model.Panels.SelectMany(p => p.Findings).Select(ChartWords.Finding))
            .Concat(model.Notes))
        {
            WriteWrapped(console, line, width);
        }
    }

    private static string Legend(ChartModel model)
    {
        var lines = model.Panels.SelectMany(p => p.Lines).ToList();
        var letters = lines.Select(l => l.Channel).Distinct().OrderBy(c => c is null).ThenBy(c => c).Select(ChartLook.Of).Select(
            l => $"{l.Letter} {l.Word}");
        IEnumerable<string> parts =
        [
            .. letters,
            "2, 3 so many at one place",
            "═ control limit",
            "- action limit",
            "│ 95 % interval",
            .. lines.Exists(l => l.Natural is not null) ? ["┐┘ at the right: natural limits"] : Array.Empty<string>(),
            .. model.Lots.Length > 1 ? [": new lot"] : Array.Empty<string>(),
            .. model.Events.IsEmpty ? [] : new[] { "╎ event" },
            "zone: . inside, A past the action limit, O out of control",
        ];
        return string.Join("; ", parts);
    }

    private static void WriteWrapped(IAnsiConsole console, string text, int width)
    {
        foreach (var line in PlainText.Wrap(text, width))
        {
            console.Line(line);
        }
    }
}
