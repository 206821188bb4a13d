using Acquire.Analysis.Charts;

namespace Acquire.Rendering.Charts;

/// <summary>What lines and marks mean. Only what is on the chart is explained.</summary>
internal static class SvgLegend
{
    private const double Sample = 30;

    /// <summary>Draws it from a line on, as many to a line as fit, and gives where it ends.</summary>
    public static double Draw(SvgDrawing svg, ChartModel model, int width, double y)
    {
        var x = 8.0;
        foreach (var (text, sample) in Items(svg, model))
        {
            var needed = Sample + (text.Length * 6.6) + 12;
            if (x > 8 && x + needed > width)
            {
                (x, y) = (8, y + 18);
            }

            sample(x, y - 4);
            svg.Text(x + Sample, y, text, "small");
            x += needed;
        }

        return y + 8;
    }

    private static IEnumerable<(string Text, Action<double, double> Sample)> Items(SvgDrawing svg, ChartModel model)
    {
        var lines = model.Panels.SelectMany(p => p.Lines).ToList();
        var points = lines.SelectMany(l => l.Points).ToList();
        foreach (var look in lines.Select(l => l.Channel).Distinct().OrderBy(c => c is null).ThenBy(c => c).Select(ChartLook.Of))
        {
            yield return (look.Word, (x, y) =>
            {
                svg.Path([(x, y), (x + 24, y)], $"line {look.Css} of-{look.Word.Replace(' ', '-')}");
                svg.Marker(look, x + 12, y);
            });
        }

        var limits = model.Panels.SelectMany(p => p.Limits).Select(l => l.Kind).Distinct().ToList();
        if (limits.Contains(ChartLimitKind.Control))
        {
            yield return ("control limit", (x, y) => svg.Line(x, y, x + 24, y, "control"));
        }

        if (limits.Contains(ChartLimitKind.Action))
        {
            yield return ("action limit", (x, y) => svg.Line(x, y, x + 24, y, "action"));
        }

        if (lines.Exists(l => l.Natural is not null))
        {
            yield return ("natural limits",
                (x, y) => svg.Path([(x + 9, y - 6), (x + 13, y - 6), (x + 13, y + 6), (x + 9, y + 6)], "natural ink"));
        }

        if (points.Exists(p => p.Upper > p.Lower))
        {
            yield return ("95 % interval", (x, y) =>
                svg.Path([(x + 9, y - 6), (x + 15, y - 6), (x + 12, y - 6), (x + 12, y + 6), (x + 9, y + 6), (x + 15, y + 6)], "line ink"));
        }

        if (points.Exists(p => p.Zone == Zone.Action))
        {
            yield return ("past the action limit", (x, y) => svg.Ring(x + 12, y, 6.5, "ring"));
        }

        if (points.Exists(p => p.Zone == Zone.Out))
        {
            yield return ("out of control", (x, y) => { svg.Ring(x + 12, y, 5, "ring"); svg.Ring(x + 12, y, 7.5, "ring"); });
        }

        if (points.Exists(p => !p.Signals.IsEmpty))
        {
            yield return ("run rule broken", (x, y) => svg.Wedge(x + 12, y + 3));
        }

        if (model.Lots.Length > 1)
        {
            yield return ("new lot", (x, y) => svg.Line(x + 12, y - 7, x + 12, y + 7, "crossover"));
        }
    }
}
