using Acquire.Analysis.Charts;

namespace Acquire.Rendering.Charts;

internal sealed class SvgPanel(
    SvgDrawing svg, ChartModel model, ChartPanel panel, ChartFrame frame, bool isNarrow, Func<Guid, string>? link)
{
    /// <summary>Limit labels this close would cover each other.</summary>
    private const double LabelHeight = 11;

    public void Draw()
    {
        Ground();
        Limits();
        foreach (var line in panel.Lines)
        {
            Line(line);
        }

        // All lines first, so that no line covers a marker; then strip by strip, so that no colour covers the others throughout.
        foreach (var (line, point) in panel.Lines.SelectMany(l => l.Points.Select(p => (l, p))).OrderBy(p => p.p.X))
        {
            Point(line, point);
        }

        Bottles();
        Natural();
        Findings();
    }

    private double X(double x) => frame.Left + (model.Range.Share(x) * (frame.Right - frame.Left));

    private double Y(double y) => frame.Bottom - (panel.Range.Share(y) * (frame.Bottom - frame.Top));

    private void Ground()
    {
        for (var i = 1; i < model.Lots.Length; i++)
        {
            if (i % 2 == 1)
            {
                svg.Box(X(model.Lots[i].From), frame.Top, X(model.Lots[i].To) - X(model.Lots[i].From), frame.Bottom - frame.Top, "band");
            }

            svg.Line(X(model.Lots[i].From), frame.Top, X(model.Lots[i].From), frame.Bottom, "crossover");
        }

        foreach (var tick in ChartSvg.Ticks(model, frame))
        {
            svg.Line(X(tick.At), frame.Top, X(tick.At), frame.Bottom, "grid");
        }

        foreach (var tick in ChartTicks.Numbers(panel.Range, Math.Max(2, (int)((frame.Bottom - frame.Top) / 26))))
        {
            svg.Line(frame.Left, Y(tick.At), frame.Right, Y(tick.At), tick.At == 0 ? "zero" : "grid");
            svg.Text(
                frame.Left - 5,
                Y(tick.At) + 4,
                tick.At > 0 && panel.Parameter.HasSign ? "+" + tick.Label : tick.Label,
                "small soft",
                "end");
        }

        foreach (var mark in model.Events)
        {
            svg.Line(X(mark.X), frame.Top, X(mark.X), frame.Bottom, "event");
        }

        svg.Box(frame.Left, frame.Top, frame.Right - frame.Left, frame.Bottom - frame.Top, "frame");
        svg.Text(
            frame.Left, frame.Top - 6, isNarrow ? panel.Parameter.Name : $"{panel.Parameter.Name}: {panel.Parameter.StandsFor}", "name");
    }

    private void Limits()
    {
        foreach (var limit in panel.Limits)
        {
            var look = limit.Channels is [var only] ? " " + ChartLook.Of(only).Css : "";
            svg.Line(
                X(limit.From),
                Y(limit.Value),
                X(limit.To),
                Y(limit.Value),
                (limit.Kind == ChartLimitKind.Control ? "control" : "action") + look);
        }

        // The labels are of the limits in force at the end, kept apart from top to bottom.
        var at = double.NegativeInfinity;
        foreach (var limit in panel.Limits.Where(l => l.To >= model.Range.High).OrderByDescending(l => l.Value))
        {
            at = Math.Max(Y(limit.Value) + 4, at + LabelHeight);
            svg.Text(
                frame.Right + 27,
                at,
                ChartWords.Limit(limit.Value) + (isNarrow ? ChartWords.Letters(limit) : " " + ChartWords.Name(limit)),
                "small");
        }
    }

    private void Line(ChartLine line)
    {
        var look = ChartLook.Of(line.Channel);
        foreach (var run in line.Runs.Where(r => r.Length > 1))
        {
            svg.Path(run.Select(p => (X(p.X) + look.Shift, Y(p.Deviation))), $"line {look.Css} of-{look.Word.Replace(' ', '-')}");
        }

        // One path for all whiskers of a line keeps a long history small. A whisker that is cut at the edge has no end there.
        svg.Stroke(line.Points.Where(p => p.Upper > p.Lower).SelectMany(p =>
        {
            var x = X(p.X) + look.Shift;
            var upright = ((x, Y(panel.Range.Clamp(p.Upper))), (x, Y(panel.Range.Clamp(p.Lower))));
            return new[] { p.Lower, p.Upper }.Where(panel.Range.Holds).Select(end => ((x - 2, Y(end)), (x + 2, Y(end)))).Prepend(upright);
        }), $"whisker {look.Css}");
    }

    private void Point(ChartLine line, ChartPoint point)
    {
        var look = ChartLook.Of(line.Channel);
        var (x, y) = (X(point.X) + look.Shift, Y(point.Deviation));
        svg.Raw(link is null
            ? $"<g class=\"point\"><title>{HtmlWriter.Escape(ChartWords.Point(panel, line, point))}</title>"
            : $"<a class=\"point\" href=\"{HtmlWriter.Escape(link(point.StripId))}\">"
                + $"<title>{HtmlWriter.Escape(ChartWords.Point(panel, line, point))}</title>");
        svg.Marker(look, x, y, ChartLook.MarkerSize(model.Strips, frame.Right - frame.Left));
        if (point.Zone is Zone.Action or Zone.Out)
        {
            svg.Ring(x, y, 6.5, "ring");
        }

        if (point.Zone == Zone.Out)
        {
            svg.Ring(x, y, 9, "ring");
        }

        if (!point.Signals.IsEmpty)
        {
            svg.Wedge(x, y - 10);
        }

        svg.Raw(link is null ? "</g>" : "</a>");
    }

    /// <summary>On an axis of age each bottle has a line of its own, named at its end.</summary>
    private void Bottles()
    {
        foreach (var run in panel.Lines.Take(1).SelectMany(l => l.Runs).Where(_ => model.Axis != ChartAxis.Date))
        {
            if (run[^1].Bottle is { } bottle)
            {
                svg.Text(Math.Min(X(run[^1].X), frame.Right - 2), Y(run[^1].Deviation) - 8, bottle, "small", "end");
            }
        }
    }

    /// <summary>Natural limits as brackets beside the plot, one a channel, so that they are never taken for tolerances.</summary>
    private void Natural()
    {
        var x = frame.Right + 6.0;
        foreach (var line in panel.Lines)
        {
            if (panel.NaturalOf(line) is { } natural)
            {
                var look = ChartLook.Of(line.Channel);
                svg.Path(
                    [(x - 2.5, Y(natural.Upper)), (x, Y(natural.Upper)), (x, Y(natural.Lower)), (x - 2.5, Y(natural.Lower))],
                    $"natural {look.Css}");
                svg.Line(x - 2.5, Y(line.Natural!.Centre), x + 2.5, Y(line.Natural!.Centre), $"natural {look.Css}");
                if (panel.Lines.Length == 1)
                {
                    svg.Line(frame.Left, Y(natural.Upper), frame.Right, Y(natural.Upper), $"wide {look.Css}");
                    svg.Line(frame.Left, Y(natural.Lower), frame.Right, Y(natural.Lower), $"wide {look.Css}");
                }
            }

            x += 7;
        }
    }

    private void Findings()
    {
        foreach (var mark in panel.Findings)
        {
            svg.Line(X(mark.X), frame.Top, X(mark.X), frame.Bottom, "found");
            svg.Ring(X(mark.X), frame.Top + 8, 7, "tag");
            svg.Text(X(mark.X), frame.Top + 12, mark.Letter, "small", "middle");
        }
    }
}

/// <summary>The place a panel has on the sheet, in pixels.</summary>
internal readonly record struct ChartFrame(double Left, double Right, double Top, double Bottom);
