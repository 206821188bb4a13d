using Acquire.Analysis.Gauge;
using Acquire.Rendering.Charts;

namespace Acquire.Rendering.Trust;

/// <summary>A repeatability test as one page, to keep and to print: what the terminal shows, and a picture of every read.</summary>
internal static class RepeatabilityHtml
{
    private const int Width = 900, Left = 70, Right = 890, Band = 130;

    public static string Of(RepeatabilityData data, RepeatabilityReport report, RepeatabilityComparison? comparison, TimeProvider time)
    {
        var title = $"Repeatability test, {Numbers.Moment(time.GetUtcNow(), time)}";
        var page = new HtmlWriter();
        page.Raw($"<h1>{HtmlWriter.Escape(title)}</h1>");
        page.Paragraph(RepeatabilityText.Verdict(report), $"verdict {(report.Passes ? "good" : "stop")}");
        page.Table("Channels", RepeatabilityText.Channels(report));
        page.Heading("Each read, as its distance from the mean of its patch");
        page.Raw($"<div class=\"chart\">{Plot(data, report)}</div>");
        page.Table("Patches", RepeatabilityText.Patches(report));
        if (!report.Limits.IsEmpty)
        {
            page.Table("Limits of the process", RepeatabilityText.Limits(report));
        }

        if (comparison is not null)
        {
            page.Heading("The test before");
            page.List(RepeatabilityText.Comparison(comparison));
        }

        if (!report.Notes.IsEmpty)
        {
            page.Heading("Notes");
            page.List(report.Notes);
        }

        return page.Page(title);
    }

    /// <summary>One band per channel; dashed lines are half the repeatability limit on either side.</summary>
    private static string Plot(RepeatabilityData data, RepeatabilityReport report)
    {
        var svg = new SvgDrawing();
        foreach (var (i, channel) in report.Channels.Index())
        {
            DrawBand(svg, data, channel, 15 + (i * Band) + (Band / 2));
        }

        var height = (report.Channels.Length * Band) + 30;
        svg.Text(Left, height - 4, "reads in order, patch by patch; dashed: ± half the repeatability limit", "small");
        return svg.Document(
            Width, height, "Reads of every patch by channel", "Each read as its distance from the mean of its patch.", "img", "reads");
    }

    private static void DrawBand(SvgDrawing svg, RepeatabilityData data, ChannelRepeatability channel, int middle)
    {
        var points = channel.Patches
            .SelectMany(
                p => data.Of(p.Patch, channel.Channel).Select(r => (p.Patch, Distance: (double)r.Values[channel.Channel] - p.Level)))
            .ToList();
        var half = channel.Pooled.RepeatabilityLimit / 2;
        var scale = ((Band / 2) - 12) / (Math.Max(points.Max(p => Math.Abs(p.Distance)), half) * 1.15);
        svg.Line(Left, middle, Right, middle, "zero");
        svg.Text(2, middle + 4, channel.Channel.Word(), "small");
        foreach (var (limit, sign) in new[] { (half, '+'), (-half, '−') })
        {
            svg.Line(Left, middle - (limit * scale), Right, middle - (limit * scale), "action");
            svg.Text(2, middle - (limit * scale) + 4, string.Create(CultureInfo.InvariantCulture, $"{sign}{half:0.0000}"), "small");
        }

        var step = (Right - Left) / (double)points.Count;
        foreach (var (i, (patch, distance)) in points.Index())
        {
            var x = Left + (step * (i + 0.5));
            if (i == 0 || points[i - 1].Patch != patch)
            {
                svg.Text(x - 4, middle - (Band / 2) + 8, patch, "small");
            }

            svg.Marker(ChartLook.Of(channel.Channel), x, middle - (distance * scale));
        }
    }
}
