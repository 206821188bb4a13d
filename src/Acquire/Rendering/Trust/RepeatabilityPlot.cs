using System.Text;
using Acquire.Analysis.Gauge;

namespace Acquire.Rendering.Trust;

/// <summary>
/// Each read as its distance from the mean of its patch, one band per channel, as SVG. Dashed lines are half the repeatability limit on either
/// side; channels differ by shape, not by colour alone.
/// </summary>
internal static class RepeatabilityPlot
{
    private const int Left = 70;
    private const int Right = 890;
    private const int Band = 130;

    public static string Of(RepeatabilityData data, RepeatabilityReport report)
    {
        var svg = new StringBuilder();
        var height = (report.Channels.Length * Band) + 30;
        svg.Append(CultureInfo.InvariantCulture, $"<svg viewBox=\"0 0 900 {height}\" role=\"img\" aria-label=\"Reads of every patch by channel, as distances from the patch's mean\">\n");
        for (var i = 0; i < report.Channels.Length; i++)
        {
            AppendBand(svg, data, report.Channels[i], 15 + (i * Band) + (Band / 2));
        }

        return svg.Append(CultureInfo.InvariantCulture, $"<text x=\"{Left}\" y=\"{height - 4}\">reads in order, patch by patch; dashed: ± half the repeatability limit</text>\n</svg>\n").ToString();
    }

    private static void AppendBand(StringBuilder svg, RepeatabilityData data, ChannelRepeatability channel, int middle)
    {
        var points = channel.Patches
            .SelectMany(p => data.Of(p.Patch, channel.Channel).Select(r => (p.Patch, Distance: (double)r.Values[channel.Channel] - p.Level)))
            .ToList();
        var half = channel.Pooled.RepeatabilityLimit / 2;
        var reach = Math.Max(points.Max(p => Math.Abs(p.Distance)), half) * 1.15;
        var scale = ((Band / 2) - 12) / reach;
        Line(svg, middle, "#111", "");
        Line(svg, middle - (half * scale), "#666", "5 4");
        Line(svg, middle + (half * scale), "#666", "5 4");
        Label(svg, 2, middle + 4, channel.Channel.Word());
        Label(svg, 2, middle - (half * scale) + 4, string.Create(CultureInfo.InvariantCulture, $"+{half:0.0000}"));
        Label(svg, 2, middle + (half * scale) + 4, string.Create(CultureInfo.InvariantCulture, $"−{half:0.0000}"));
        var step = (Right - Left) / (double)points.Count;
        var before = "";
        for (var i = 0; i < points.Count; i++)
        {
            var x = Left + (step * (i + 0.5));
            if (points[i].Patch != before)
            {
                before = points[i].Patch;
                Label(svg, x - 4, middle - (Band / 2) + 8, before);
            }

            Mark(svg, channel.Channel, x, middle - (points[i].Distance * scale));
        }
    }

    private static void Line(StringBuilder svg, double y, string colour, string dash) => svg.Append(
        CultureInfo.InvariantCulture, $"<line x1=\"{Left}\" x2=\"{Right}\" y1=\"{y:0.#}\" y2=\"{y:0.#}\" stroke=\"{colour}\" stroke-dasharray=\"{dash}\"/>\n");

    private static void Label(StringBuilder svg, double x, double y, string text) =>
        svg.Append(CultureInfo.InvariantCulture, $"<text x=\"{x:0.#}\" y=\"{y:0.#}\">{RepeatabilityHtml.Text(text)}</text>\n");

    private static void Mark(StringBuilder svg, Channel channel, double x, double y) => svg.Append(channel switch
    {
        Channel.Red => string.Create(CultureInfo.InvariantCulture, $"<circle cx=\"{x:0.#}\" cy=\"{y:0.#}\" r=\"4\" fill=\"#b3261e\"/>\n"),
        Channel.Green => string.Create(CultureInfo.InvariantCulture, $"<rect x=\"{x - 4:0.#}\" y=\"{y - 4:0.#}\" width=\"8\" height=\"8\" fill=\"#1b6e2d\"/>\n"),
        Channel.Blue => string.Create(CultureInfo.InvariantCulture, $"<path d=\"M{x:0.#} {y - 5:0.#}l5 9h-10z\" fill=\"#1a4fa3\"/>\n"),
        _ => string.Create(CultureInfo.InvariantCulture, $"<path d=\"M{x:0.#} {y - 5:0.#}l5 5-5 5-5-5z\" fill=\"#444\"/>\n"),
    });
}
