using System.Net;
using System.Text;
using Acquire.Analysis.Gauge;

namespace Acquire.Rendering.Trust;

/// <summary>A repeatability test as one page that needs nothing else: no scripts, no other files; made to be printed, too.</summary>
internal static class RepeatabilityHtml
{
    private const string Style =
        """
        body { font: 15px/1.45 system-ui, sans-serif; max-width: 60rem; margin: 2rem auto; padding: 0 1rem; color: #111; background: #fff }
        h1 { font-size: 1.4rem } h2 { font-size: 1.1rem; margin-top: 1.6rem }
        table { border-collapse: collapse; width: 100% } th, td { text-align: right; padding: .2rem .5rem; border-bottom: 1px solid #bbb }
        th:first-child, td:first-child { text-align: left } .table { overflow-x: auto } .verdict { font-weight: 600; border: 2px solid; padding: .5rem .8rem }
        svg { width: 100%; height: auto } svg text { font: 11px system-ui, sans-serif; fill: #111 }
        @media print { body { margin: 0; max-width: none } h2, svg, table { break-inside: avoid } }
        """;

    public static string Of(RepeatabilityData data, RepeatabilityReport report, RepeatabilityComparison? comparison, TimeProvider time)
    {
        var page = new StringBuilder();
        page.Append(CultureInfo.InvariantCulture, $"<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width\"><title>Repeatability test</title><style>\n{Style}\n</style></head><body>\n");
        page.Append(CultureInfo.InvariantCulture, $"<h1>Repeatability test, {Text(Numbers.Moment(time.GetUtcNow(), time))}</h1>\n<p class=\"verdict\">{Text(RepeatabilityText.Verdict(report))}</p>\n");
        Table(
            page,
            "Channels",
            ["channel", "s", "95 % interval", "r = 2.8 s", "within", "placement", "step's share", "n", "ν", "specification", ""],
            report.Channels.Select(c => new[]
            {
                c.Channel.Word(),
                RepeatabilityText.Four(c.Pooled.S),
                $"{RepeatabilityText.Four(c.Pooled.SLow)} … {RepeatabilityText.Four(c.Pooled.SHigh)}",
                RepeatabilityText.Four(c.Pooled.RepeatabilityLimit),
                c.Pooled.SWithin is { } w ? RepeatabilityText.Four(w) : "–",
                c.Pooled.SPlacement is { } p ? RepeatabilityText.Four(p) : "–",
                RepeatabilityText.Percent(c.Pooled.ResolutionShare),
                Whole(c.Pooled.Reads),
                Whole(c.Pooled.DegreesOfFreedom),
                RepeatabilityText.Four(c.Specification.Sigma),
                c.Specification.Passes ? "passed" : "FAILED",
            }));
        page.Append("<h2>Each read, as its distance from the mean of its patch</h2>\n").Append(RepeatabilityPlot.Of(data, report));
        Table(
            page,
            "Patches",
            ["patch", "channel", "mean", "u(mean)", "s", "reads"],
            report.Channels.SelectMany(c => c.Patches).Select(p => new[]
            {
                p.Patch,
                p.Channel.Word(),
                Numbers.Density(p.Level),
                RepeatabilityText.Four(p.LevelUncertainty),
                p.Scatter is { } s ? RepeatabilityText.Four(s.S) : "–",
                Whole(p.Reads),
            }));
        Table(
            page,
            "Limits of the process",
            ["parameter", "channel", "limit", "6 s of its width", "reads per patch"],
            report.Limits.Select(l => new[]
            {
                l.Parameter.Name,
                l.Channel?.Word() ?? "–",
                l.IsControl ? "control" : "action",
                RepeatabilityText.Percent(l.Share),
                l.ReadsNeeded is { } n ? Whole(n) : "no number is enough",
            }));
        Table(
            page,
            "The test before",
            ["channel", "s before", "s now", "F", "P"],
            (comparison?.Channels ?? []).Select(c => new[]
            {
                c.Channel.Word() + (c.IsSignificant ? " (changed)" : ""),
                RepeatabilityText.Four(c.Before),
                RepeatabilityText.Four(c.Now),
                Numbers.Density(c.Test.F),
                Numbers.Density(c.Test.P),
            }));
        if (!report.Notes.IsEmpty)
        {
            page.Append("<h2>Notes</h2>\n<ul>").AppendJoin("", report.Notes.Select(n => $"<li>{Text(n)}</li>")).Append("</ul>\n");
        }

        return page.Append("</body></html>\n").ToString();
    }

    public static string Text(string text) => WebUtility.HtmlEncode(text);

    private static string Whole(int number) => number.ToString(CultureInfo.InvariantCulture);

    private static void Table(StringBuilder page, string title, IEnumerable<string> headings, IEnumerable<string[]> rows)
    {
        var lines = rows.Select(r => $"<tr>{string.Concat(r.Select(c => $"<td>{Text(c)}</td>"))}</tr>\n").ToList();
        if (lines.Count > 0)
        {
            page.Append(CultureInfo.InvariantCulture, $"<h2>{Text(title)}</h2>\n<div class=\"table\"><table><thead><tr>")
                .AppendJoin("", headings.Select(h => $"<th>{Text(h)}</th>"))
                .Append("</tr></thead><tbody>\n").AppendJoin("", lines).Append("</tbody></table></div>\n");
        }
    }
}
