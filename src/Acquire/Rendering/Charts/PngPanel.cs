using Acquire.Analysis.Charts;
using ScottPlot;
using ScottPlot.TickGenerators;
using SkiaSharp;

namespace Acquire.Rendering.Charts;

/// <summary>One panel as a plot.</summary>
internal static class PngPanel
{
    private static readonly Color Ink = Color.FromHex("#333333");
    private static readonly Color Soft = Color.FromHex("#777777");

    /// <summary>A face without serifs that is installed here; the system's own choice when none of the usual ones is.</summary>
    public static string FontName { get; } =
        new[] { "DejaVu Sans", "Liberation Sans", "Noto Sans", "Segoe UI", "Helvetica", "Arial" }.FirstOrDefault(SKFontManager.Default.FontFamilies.Contains) ?? Fonts.Default;

    /// <summary>Makes the plot.</summary>
    /// <param name="model">The chart.</param>
    /// <param name="panel">The panel.</param>
    /// <param name="width">Width of the plot in pixels.</param>
    /// <param name="height">Its height.</param>
    public static Plot Of(ChartModel model, ChartPanel panel, int width, float height)
    {
        var plot = new Plot();
        plot.Font.Set(FontName);
        plot.Axes.SetLimits(model.Range.Low, model.Range.High, panel.Range.Low, panel.Range.High);
        plot.Axes.Bottom.TickGenerator = Ticks(ChartTicks.Of(model.Axis, model.Range, Math.Max(2, width / 90)));
        plot.Axes.Left.TickGenerator = Ticks(ChartTicks.Numbers(panel.Range, Math.Max(2, (int)(height / 26)))
            .Select(t => t.At > 0 && panel.Parameter.HasSign ? t with { Label = "+" + t.Label } : t));
        Upright(plot, model, panel);
        Limits(plot, model, panel);

        // Channels of one strip stand a little aside of each other, so that their whiskers can be told apart.
        var pixel = model.Range.Width / width;
        foreach (var line in panel.Lines)
        {
            Line(plot, model.Axis, panel, line, pixel);
        }

        // Strip by strip, so that no colour covers the others throughout.
        var size = 7 * (float)ChartLook.MarkerSize(model.Strips, width);
        foreach (var (line, point) in panel.Lines.SelectMany(l => l.Points.Select(p => (l, p))).OrderBy(p => p.p.X))
        {
            Point(plot, line, point, pixel, size);
        }

        return plot;
    }

    /// <summary>What lines and marks mean.</summary>
    public static string Legend(ChartModel model)
    {
        var shapes = model.Panels.SelectMany(p => p.Lines).Select(l => l.Channel).Distinct().OrderBy(c => c is null).ThenBy(c => c)
            .Select(c => $"{(c is { } channel ? channel.Word() : "spread")} {Shape(c).Word}");
        return $"{string.Join(", ", shapes)}; thick line control limit, dashed line action limit, brackets natural limits; uprights 95 % intervals; "
            + "ring past the action limit, double ring out of control; ▼ run rule broken";
    }

    private static (MarkerShape Marker, string Word) Shape(Channel? channel) => channel switch
    {
        Channel.Red => (MarkerShape.FilledCircle, "●"),
        Channel.Green => (MarkerShape.FilledSquare, "■"),
        Channel.Blue => (MarkerShape.FilledTriangleUp, "▲"),
        _ => (MarkerShape.FilledDiamond, "◆"),
    };

    private static NumericManual Ticks(IEnumerable<ChartTick> ticks)
    {
        var manual = new NumericManual();
        foreach (var tick in ticks)
        {
            manual.AddMajor(tick.At, tick.Label);
        }

        return manual;
    }

    private static void Upright(Plot plot, ChartModel model, ChartPanel panel)
    {
        foreach (var band in model.Lots.Skip(1))
        {
            Segment(plot, band.From, panel.Range.Low, band.From, panel.Range.High, Soft, 1, LinePattern.Dotted);
        }

        foreach (var mark in model.Events)
        {
            Segment(plot, mark.X, panel.Range.Low, mark.X, panel.Range.High, Soft, 1, LinePattern.DenselyDashed);
        }

        foreach (var mark in panel.Findings)
        {
            Segment(plot, mark.X, panel.Range.Low, mark.X, panel.Range.High, Ink, 1, LinePattern.Dashed);
            var label = Label(plot, ChartWords.Letter(mark.Number), mark.X, panel.Range.High, Alignment.UpperCenter);
            (label.LabelBackgroundColor, label.LabelBorderColor, label.LabelBorderWidth, label.LabelPadding) = (Colors.White, Ink, 1, 2);
            label.OffsetY = 3;
        }
    }

    private static void Limits(Plot plot, ChartModel model, ChartPanel panel)
    {
        Segment(plot, model.Range.Low, 0, model.Range.High, 0, Soft, 1, LinePattern.Solid);
        foreach (var limit in panel.Limits)
        {
            var isControl = limit.Kind == ChartLimitKind.Control;
            Segment(plot, limit.From, limit.Value, limit.To, limit.Value, limit.Channels is [var only] ? Color.FromHex(ChartLook.Of(only).Colour) : Ink, isControl ? 2 : 1, isControl ? LinePattern.Solid : LinePattern.Dashed);
        }
    }

    private static void Line(Plot plot, ChartAxis axis, ChartPanel panel, ChartLine line, double pixel)
    {
        var look = ChartLook.Of(line.Channel);
        var colour = Color.FromHex(look.Colour);
        foreach (var run in line.Runs)
        {
            var scatter = plot.Add.Scatter([.. run.Select(p => p.X + (look.Shift * pixel))], run.Select(p => p.Deviation).ToArray());
            (scatter.Color, scatter.LineWidth, scatter.MarkerSize) = (colour, 1.3f, 0);
            scatter.LinePattern = look.Dash.Length == 0 ? LinePattern.Solid : new LinePattern(look.Dash, 0, look.Word);
            if (axis != ChartAxis.Date && line == panel.Lines[0])
            {
                Label(plot, run[^1].Bottle ?? "", run[^1].X, run[^1].Deviation, Alignment.LowerRight).OffsetY = -6;
            }
        }

        foreach (var point in line.Points)
        {
            var x = point.X + (look.Shift * pixel);
            Segment(plot, x, panel.Range.Clamp(point.Lower), x, panel.Range.Clamp(point.Upper), colour.WithAlpha(150), 1, LinePattern.Solid);
        }
    }

    private static void Point(Plot plot, ChartLine line, ChartPoint point, double pixel, float size)
    {
        var look = ChartLook.Of(line.Channel);
        var x = point.X + (look.Shift * pixel);
        plot.Add.Marker(x, point.Deviation, Shape(line.Channel).Marker, size, Color.FromHex(look.Colour));
        foreach (var ring in point.Zone switch { Zone.Action => [13f], Zone.Out => [13f, 18f], _ => Array.Empty<float>() })
        {
            plot.Add.Marker(x, point.Deviation, MarkerShape.OpenCircle, ring, Ink);
        }

        if (!point.Signals.IsEmpty)
        {
            Label(plot, "▼", x, point.Deviation, Alignment.LowerCenter).OffsetY = -8;
        }
    }

    private static void Segment(Plot plot, double x1, double y1, double x2, double y2, Color colour, float width, LinePattern pattern)
    {
        var line = plot.Add.Line(x1, y1, x2, y2);
        (line.LineColor, line.LineWidth, line.LinePattern, line.MarkerSize) = (colour, width, pattern, 0);
    }

    private static ScottPlot.Plottables.Text Label(Plot plot, string text, double x, double y, Alignment alignment)
    {
        var label = plot.Add.Text(text, x, y);
        (label.LabelFontName, label.LabelFontSize, label.LabelFontColor, label.LabelAlignment) = (FontName, 11, Ink, alignment);
        return label;
    }
}
