using Acquire.Analysis.Charts;
using ScottPlot;
using SkiaSharp;

namespace Acquire.Rendering.Charts;

/// <summary>A chart as a PNG image, its panels stacked.</summary>
internal static class ChartPng
{
    private const int Foot = 26;
    private static readonly PixelPadding Edges = new(64, 120, 40, 26);

    /// <summary>Draws the chart.</summary>
    /// <param name="model">The chart.</param>
    /// <param name="width">Its width in pixels; the height follows from the panels and notes.</param>
    public static byte[] Of(ChartModel model, int width = ChartSvg.UsualWidth)
    {
        var notes = Notes(model, width).ToList();
        var legend = TextMeasure.Wrap(PngPanel.Legend(model), width - 20, 7.2).ToList();
        var heading = 58 + (legend.Count * 16);
        var heights = model.Panels.Select(p => (float)Math.Clamp(p.Range.Width * 600, 110, 240) + Edges.Top + Edges.Bottom).ToList();
        var height = (int)Math.Ceiling(heading + heights.Sum() + Foot + (notes.Count * 16));
        using var surface = SKSurface.Create(new SKImageInfo(width, height));
        surface.Canvas.Clear(SKColors.White);
        Write(surface.Canvas, 10, 8, model.Title, 16, bold: true);
        Write(surface.Canvas, 10, 32, ChartWords.Extent(model), 12);
        for (var i = 0; i < legend.Count; i++)
        {
            Write(surface.Canvas, 10, 50 + (i * 16), legend[i], 12);
        }

        float top = heading;
        foreach (var (panel, tall) in model.Panels.Zip(heights))
        {
            using var plot = PngPanel.Of(model, panel, (int)(width - Edges.Left - Edges.Right), tall - Edges.Top - Edges.Bottom);
            plot.Layout.Fixed(Edges);

            // A plot clears all that it is drawn on, so each gets an image of its own.
            using var drawn = plot.GetImage(width, (int)tall);
            using var paint = Paint.NewDisposablePaint();
            drawn.Render(surface.Canvas, new PixelRect(0, width, top + (int)tall, top), paint, false);
            top += tall;
        }

        Write(surface.Canvas, 64, top + 2, model.Axis.Title(), 12);
        for (var i = 0; i < notes.Count; i++)
        {
            Write(surface.Canvas, 10, top + Foot + (i * 16), notes[i], 12);
        }

        using var image = surface.Snapshot();
        using var data = image.Encode(SKEncodedImageFormat.Png, 100);
        return data.ToArray();
    }

    private static IEnumerable<string> Notes(ChartModel model, int width)
    {
        IEnumerable<string> lines = [.. model.Events.Select(ChartWords.Event), .. model.Panels.SelectMany(p => p.Findings).Select(ChartWords.Finding), .. model.Notes];
        return lines.SelectMany(l => TextMeasure.Wrap(l, width - 20, 7));
    }

    private static void Write(SKCanvas canvas, float x, float y, string text, float size, bool bold = false)
    {
        using var paint = Paint.NewDisposablePaint();
        var label = new LabelStyle { Text = text, FontSize = size, Bold = bold, FontName = PngPanel.FontName, ForeColor = Colors.Black, Alignment = Alignment.UpperLeft };
        label.Render(canvas, new Pixel(x, y), paint);
    }
}
