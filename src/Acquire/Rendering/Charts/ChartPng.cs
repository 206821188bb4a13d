using Acquire.Analysis.Charts;
using SkiaSharp;
using Svg.Skia;

namespace Acquire.Rendering.Charts;

/// <summary>A chart as a PNG image: the SVG, drawn. One drawing of a chart has one set of mistakes to look for.</summary>
internal static class ChartPng
{
    private const string Instead = "or give --out a name that ends in .svg.";

    /// <summary>Draws the chart on white.</summary>
    /// <param name="model">The chart.</param>
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
