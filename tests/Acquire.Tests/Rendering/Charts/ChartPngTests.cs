using Acquire.Analysis.Charts;
using Acquire.Rendering.Charts;
using SkiaSharp;

namespace Acquire.Tests.Rendering.Charts;

public class ChartPngTests
{
    [Theory]
    [InlineData(360)]
    [InlineData(1200)]
    public void Png_has_the_width_asked_for_and_the_colours_of_the_channels(int width)
    {
        using var image = SKBitmap.Decode(ChartPng.Of(ChartModels.Season(), width));
        Assert.Equal(width, image.Width);
        Assert.True(image.Height > 5 * 110, $"Five panels are {image.Height} pixels high.");
        var colours = image.Pixels.Where(p => p != SKColors.White).GroupBy(p => p).ToDictionary(g => g.Key, g => g.Count());
        Assert.All(
            new[] { "#b3261e", "#1b6e2d", "#1a4fa3" },
            c => Assert.True(colours.GetValueOrDefault(SKColor.Parse(c)) > 100, $"{c} is hardly there."));
    }

    /// <summary>A panel that another one had wiped out would leave its part of the image without ink.</summary>
    [Fact]
    public void Every_panel_is_there()
    {
        using var image = SKBitmap.Decode(ChartPng.Of(ChartModels.Season()));
        var blue = SKColor.Parse("#1a4fa3");
        var rows = Enumerable.Range(0, image.Height).Where(y => Enumerable.Range(64, 600).Any(x => image.GetPixel(x, y) == blue)).ToList();

        // Blue is in the legend and in four of five panels: silver at the top, contrast, LD, and D-min at the bottom.
        Assert.Equal(4, rows.Zip(rows.Skip(1), (a, b) => b - a).Count(d => d > 40));
    }

    [Fact]
    public void No_strips_make_an_empty_chart()
    {
        using var image = SKBitmap.Decode(ChartPng.Of(ChartModel.Of(new ChartRequest(ChartHistory.Sheet, []))));
        Assert.True(image.Pixels.Distinct().Count() > 10);
    }
}
