using Acquire.Analysis.Charts;
using ScottPlot;
using SkiaSharp;

namespace Acquire.Rendering.Charts;

/// <summary>A chart as a PNG image, its panels stacked.</summary>
internal static class ChartPng
{
    private const int Foot = 26;

    /// <summary>Draws the chart.</summary>
    /// <param name="model">The chart.</param>
    /// <param name="width">Its width in pixels; the height follows from the panels and notes.</param>
    /// <exception cref="BenchException">No font is installed: the image would be without any word or number.</exception>
    public static byte[] Of(ChartModel model, int width = ChartSvg.UsualWidth)
    {
        if (SKTypeface.FromFamilyName(PngPanel.FontName) is not { GlyphCount: > 0 })
        {
            throw new BenchException("No font is installed on this computer, so a PNG would have no words. Install one (on Debian: fonts-dejavu-core), or give --out a name that ends in .svg.");
        }

        var edges = EdgesOf(model);
        var legend = TextMeasure.Wrap(PngPanel.Legend(model), width - 20, 7.2).ToList();
        var notes = Notes(model).SelectMany(l => TextMeasure.Wrap(l, width - 20, 7.2)).ToList();
        var heading = 56 + (legend.Count * 16) + (model.Lots.IsEmpty ? 0 : 18) + (model.Events.IsEmpty ? 0 : 20);
        var heights = model.Panels.Select(p => (int)(Math.Clamp(p.Range.Width * 600, 110, 240) + edges.Top + edges.Bottom)).ToList();
        using var surface = SKSurface.Create(new SKImageInfo(width, heading + heights.Sum() + Foot + (notes.Count * 16) + 6));
        var canvas = surface.Canvas;
        canvas.Clear(SKColors.White);
        PngMargins.Write(canvas, 10, 8, model.Title, 16, bold: true);
        PngMargins.Write(canvas, 10, 32, ChartWords.Extent(model), 12);
        Lines(canvas, legend, 50);
        var top = heading;
        foreach (var (panel, height) in model.Panels.Zip(heights))
        {
            var frame = new ChartFrame(edges.Left, width - edges.Right, top + edges.Top, top + height - edges.Bottom);
            Panel(canvas, model, panel, width, top, height);
            var margins = new PngMargins(canvas, frame);
            margins.Draw(model, panel);
            if (top == heading)
            {
                margins.Lots(model, heading - (model.Events.IsEmpty ? 16 : 36));
                margins.Events(model, heading - 18);
            }

            top += height;
        }

        PngMargins.Write(canvas, edges.Left, top + 2, model.Axis.Title(), 12);
        Lines(canvas, notes, top + Foot);
        using var image = surface.Snapshot();
        using var data = image.Encode(SKEncodedImageFormat.Png, 100);
        return data.ToArray();
    }

    private static IEnumerable<string> Notes(ChartModel model) =>
        [.. model.Events.Select(ChartWords.Event), .. model.Panels.SelectMany(p => p.Findings).Select(ChartWords.Finding), .. model.Notes];

    private static PixelPadding EdgesOf(ChartModel model) => new(64, 124 + (8 * ChartWords.RoomForLetters(model)), 24, 26);

    private static void Panel(SKCanvas canvas, ChartModel model, ChartPanel panel, int width, int top, int height)
    {
        var edges = EdgesOf(model);
        using var plot = PngPanel.Of(model, panel, (int)(width - edges.Left - edges.Right), height - edges.Top - edges.Bottom);
        plot.Layout.Fixed(edges);

        // A plot clears all that it is drawn on, so each gets an image of its own.
        using var drawn = plot.GetImage(width, height);
        using var paint = Paint.NewDisposablePaint();
        drawn.Render(canvas, new PixelRect(0, width, top + height, top), paint, false);
    }

    private static void Lines(SKCanvas canvas, List<string> lines, int y)
    {
        for (var i = 0; i < lines.Count; i++)
        {
            PngMargins.Write(canvas, 10, y + (i * 16), lines[i], 12);
        }
    }
}
