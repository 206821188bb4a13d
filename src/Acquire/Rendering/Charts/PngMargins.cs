using Acquire.Analysis.Charts;
using ScottPlot;
using SkiaSharp;

namespace Acquire.Rendering.Charts;

/// <summary>What stands around a plot: its name, its limits, natural limits as brackets, and lots above.</summary>
/// <param name="canvas">What is drawn on.</param>
/// <param name="frame">Where the plot lies on it.</param>
internal sealed class PngMargins(SKCanvas canvas, ChartFrame frame)
{
    private const double LabelHeight = 13;

    public void Draw(ChartModel model, ChartPanel panel)
    {
        Write(canvas, frame.Left, frame.Top - 20, frame.Right - frame.Left < 300 ? panel.Parameter.Name : $"{panel.Parameter.Name}: {panel.Parameter.StandsFor}", 13, bold: true);
        var at = double.NegativeInfinity;
        foreach (var limit in panel.Limits.Where(l => l.To >= model.Range.High).OrderByDescending(l => l.Value))
        {
            at = Math.Max(Y(panel, limit.Value) - 7, at + LabelHeight);
            Write(canvas, frame.Right + 30, at, $"{ChartWords.Limit(limit.Value)} {ChartWords.Name(limit)}", 12);
        }

        var x = frame.Right + 7;
        foreach (var line in panel.Lines)
        {
            if (panel.NaturalOf(line) is { } natural)
            {
                var colour = SKColor.Parse(ChartLook.Of(line.Channel).Colour);
                var (top, bottom, middle) = (Y(panel, natural.Upper), Y(panel, natural.Lower), Y(panel, line.Natural!.Centre));
                Stroke(colour, (x - 3, top), (x, top), (x, bottom), (x - 3, bottom));
                Stroke(colour, (x - 3, middle), (x + 3, middle));
            }

            x += 8;
        }
    }

    /// <summary>Lots where they come into use, above the first panel.</summary>
    public void Lots(ChartModel model, double y)
    {
        var free = double.NegativeInfinity;
        foreach (var band in model.Lots)
        {
            var at = Math.Max(frame.Left, frame.Left + (model.Range.Share(band.From) * (frame.Right - frame.Left)));
            if (at >= free)
            {
                Write(canvas, at, y, $"lot {band.Lot}", 12);
                free = at + TextMeasure.Width($"lot {band.Lot}", 7.2) + 6;
            }
        }
    }

    /// <summary>The numbers of the events above the first panel; those of one day stand side by side.</summary>
    public void Events(ChartModel model, double y)
    {
        var free = double.NegativeInfinity;
        foreach (var mark in model.Events)
        {
            var at = Math.Max(frame.Left + (model.Range.Share(mark.X) * (frame.Right - frame.Left)), free);
            var number = mark.Number.ToString(CultureInfo.InvariantCulture);
            Write(canvas, at - (number.Length * 4), y, number, 12);
            using var paint = new SKPaint { Color = SKColors.Black, IsStroke = true, IsAntialias = true };
            canvas.DrawCircle((float)at, (float)y + 6.5f, 8, paint);
            free = at + 17;
        }
    }

    /// <summary>Writes a line of text from its upper left corner on.</summary>
    public static void Write(SKCanvas canvas, double x, double y, string text, float size, bool bold = false)
    {
        using var paint = Paint.NewDisposablePaint();
        var label = new LabelStyle
        {
            Text = text, FontName = PngPanel.FontName, FontSize = size, Bold = bold, ForeColor = Colors.Black, Alignment = Alignment.UpperLeft,
        };
        label.Render(canvas, new Pixel((float)x, (float)y), paint);
    }

    private double Y(ChartPanel panel, double value) => frame.Bottom - (panel.Range.Share(value) * (frame.Bottom - frame.Top));

    private void Stroke(SKColor colour, params (double X, double Y)[] points)
    {
        using var paint = new SKPaint { Color = colour, StrokeWidth = 1.6f, IsStroke = true, IsAntialias = true };
        canvas.DrawPoints(SKPointMode.Polygon, [.. points.Select(p => new SKPoint((float)p.X, (float)p.Y))], paint);
    }
}
