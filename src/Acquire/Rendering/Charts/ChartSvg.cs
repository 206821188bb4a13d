using Acquire.Analysis.Charts;
using SkiaSharp;
using Svg.Skia;

namespace Acquire.Rendering.Charts;

/// <summary>A chart as one SVG that needs nothing else: no scripts, no other files. It can stand in a page or a report, or alone.</summary>
internal static class ChartSvg
{
    /// <summary>The width when nothing is asked for, in pixels: fits an upright A4 page.</summary>
    public const int UsualWidth = 960;

    public const int LeastWidth = 320, LargestWidth = 4000;

    private const int Narrow = 560;

    /// <param name="width">Its width in pixels; text keeps its size whatever the width.</param>
    /// <param name="link">Address of a strip's record, to which its points then lead; null for none.</param>
    /// <param name="id">Begins the ids inside; another one for each chart of a page.</param>
    public static string Of(ChartModel model, int width = UsualWidth, Func<Guid, string>? link = null, string id = "chart")
    {
        var isNarrow = width < Narrow;
        var svg = new SvgDrawing();
        var (left, right) = (52.0, width - (isNarrow ? 66.0 : 122.0) - (7 * ChartWords.RoomForLetters(model)));
        var y = 24.0;
        foreach (var line in PlainText.Wrap(model.Title, width - 16, 8.6))
        {
            svg.Text(8, y, line, "title");
            y += 19;
        }

        svg.Text(8, y, ChartWords.Extent(model), "soft");
        y = SvgLegend.Draw(svg, model, width, y + 20);
        y = Marks(svg, model, left, right, y + 4);
        foreach (var panel in model.Panels)
        {
            var frame = new ChartFrame(left, right, y + 22, y + 22 + Height(panel));
            new SvgPanel(svg, model, panel, frame, isNarrow, link).Draw();
            y = frame.Bottom;
        }

        y = Footer(svg, model, new ChartFrame(left, right, 0, y), width);
        var summary = string.Join(' ', model.Panels.Select(ChartWords.Summary));
        return svg.Document(
            width, (int)Math.Ceiling(y), model.Title, $"{ChartWords.Extent(model)}. {summary}", link is null ? "img" : "group", id);
    }

    /// <summary>The labelled places of the axis that fit between the edges.</summary>
    public static ImmutableArray<ChartTick> Ticks(ChartModel model, ChartFrame frame) =>
        ChartTicks.Of(model.Axis, model.Range, Math.Max(2, (int)((frame.Right - frame.Left) / (model.Axis == ChartAxis.Date ? 84 : 60))));

    /// <summary>A hundredth of density is six pixels high, within reason, so that panels can be compared.</summary>
    private static double Height(ChartPanel panel) => Math.Clamp(panel.Range.Width * 600, 96, 230);

    /// <summary>Lots and events above the panels.</summary>
    private static double Marks(SvgDrawing svg, ChartModel model, double left, double right, double y)
    {
        double X(double x) => left + (model.Range.Share(x) * (right - left));
        if (!model.Lots.IsEmpty)
        {
            var free = double.NegativeInfinity;
            foreach (var band in model.Lots)
            {
                var (at, text) = (Math.Max(X(band.From), left) + 2, $"lot {band.Lot}");
                if (at >= free)
                {
                    svg.Text(at, y + 12, text, "small soft");
                    free = at + (text.Length * 6.6) + 4;
                }
            }

            y += 16;
        }

        if (!model.Events.IsEmpty)
        {
            var free = double.NegativeInfinity;
            foreach (var mark in model.Events)
            {
                // Events of one day stand side by side.
                var at = Math.Max(X(mark.X), free);
                svg.Ring(at, y + 8, 7.5, "tag");
                svg.Text(at, y + 12, mark.Number.ToString(CultureInfo.InvariantCulture), "small", "middle");
                free = at + 16;
            }

            y += 18;
        }

        return y;
    }

    private static double Footer(SvgDrawing svg, ChartModel model, ChartFrame frame, int width)
    {
        var y = frame.Bottom + 15;
        foreach (var tick in Ticks(model, frame))
        {
            var x = frame.Left + (model.Range.Share(tick.At) * (frame.Right - frame.Left));
            svg.Text(Math.Min(x, width - ((tick.Label.Length * 6.6) / 2) - 2), y, tick.Label, "small", "middle");
        }

        svg.Text((frame.Left + frame.Right) / 2, y + 16, model.Axis.Title(), "small soft", "middle");
        y += 36;
        IEnumerable<string> lines = [
            .. model.Events.Select(ChartWords.Event),
            .. model.Panels.SelectMany(p => p.Findings).Select(ChartWords.Finding),
            .. model.Notes];
        foreach (var line in lines.SelectMany(l => PlainText.Wrap(l, width - 16, 6.6)))
        {
            svg.Text(8, y, line, "small");
            y += 15;
        }

        return y;
    }
}

/// <summary>A chart as a PNG image: the SVG, drawn. One drawing of a chart has one set of mistakes to look for.</summary>
internal static class ChartPng
{
    private const string Instead = "or give --out a name that ends in .svg.";

    /// <summary>Draws the chart on white.</summary>
    /// <param name="width">Its width in pixels; the height follows from the panels and notes.</param>
    /// <exception cref="BenchException">The system's fonts cannot be used: the image would be without any word or number.</exception>
    public static byte[] Of(ChartModel model, int width = ChartSvg.UsualWidth)
    {
        try
        {
            if (SKFontManager.Default.FontFamilyCount == 0)
            {
                throw new BenchException($"No font is installed on this computer, so a PNG would have no words. Install one (on Debian: "
                    + $"fonts-dejavu-core), {Instead}");
            }

            using var svg = SKSvg.CreateFromSvg(ChartSvg.Of(model, width));
            using var image = new MemoryStream();
            _ = svg.Save(image, SKColors.White);
            return image.ToArray();
        }
        catch (Exception fault) when (fault is DllNotFoundException or TypeInitializationException)
        {
            // The drawing library is bound to the system's own when it is first touched.
            throw new BenchException(
                $"A PNG needs the system's font library, which is missing here. Install it (on Debian: libfontconfig1), {Instead}");
        }
    }
}
