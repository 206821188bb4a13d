using System.Text;

namespace Acquire.Rendering.Charts;

/// <summary>SVG as it grows. Numbers are invariant, texts are escaped.</summary>
internal sealed class SvgDrawing
{
    private readonly StringBuilder _svg = new();

    public void Raw(string markup) => _svg.Append(markup).Append('\n');

    public void Line(double x1, double y1, double x2, double y2, string cls) =>
        _svg.Append(
            CultureInfo.InvariantCulture, $"<line class=\"{cls}\" x1=\"{x1:0.##}\" y1=\"{y1:0.##}\" x2=\"{x2:0.##}\" y2=\"{y2:0.##}\"/>\n");

    public void Box(double x, double y, double width, double height, string cls) =>
        _svg.Append(CultureInfo.InvariantCulture, $"<rect class=\"{cls}\" x=\"{x:0.##}\" y=\"{y:0.##}\" "
            + $"width=\"{Math.Max(width, 0):0.##}\" height=\"{Math.Max(height, 0):0.##}\"/>\n");

    public void Path(IEnumerable<(double X, double Y)> points, string cls) => _svg
        .Append(CultureInfo.InvariantCulture, $"<polyline class=\"{cls}\" points=\"")
        .AppendJoin(' ', points.Select(p => string.Create(CultureInfo.InvariantCulture, $"{p.X:0.##},{p.Y:0.##}")))
        .Append("\"/>\n");

    /// <summary>Many short lines as one path; nothing when there are none.</summary>
    public void Stroke(IEnumerable<((double X, double Y) From, (double X, double Y) To)> lines, string cls)
    {
        var path = string.Concat(
            lines.Select(l => string.Create(CultureInfo.InvariantCulture, $"M{l.From.X:0.#} {l.From.Y:0.#}L{l.To.X:0.#} {l.To.Y:0.#}")));
        if (path.Length > 0)
        {
            _svg.Append(CultureInfo.InvariantCulture, $"<path class=\"{cls}\" d=\"{path}\"/>\n");
        }
    }

    public void Text(double x, double y, string text, string cls = "", string anchor = "start") => _svg.Append(
        CultureInfo.InvariantCulture,
        $"<text class=\"{cls}\" x=\"{x:0.##}\" y=\"{y:0.##}\" text-anchor=\"{anchor}\">{HtmlWriter.Escape(text)}</text>\n");

    /// <summary>The marker of a channel: circle, square, triangle, or diamond.</summary>
    /// <param name="size">1 for the usual size.</param>
    public void Marker(ChartLook look, double x, double y, double size = 1) => _svg.Append(look.Letter switch
    {
        "R" => string.Create(
            CultureInfo.InvariantCulture, $"<circle class=\"fill {look.Css}\" cx=\"{x:0.##}\" cy=\"{y:0.##}\" r=\"{3.6 * size:0.##}\"/>"),
        "G" => string.Create(CultureInfo.InvariantCulture, $"<rect class=\"fill {look.Css}\" x=\"{x - (3.4 * size):0.##}\" "
            + $"y=\"{y - (3.4 * size):0.##}\" width=\"{6.8 * size:0.##}\" height=\"{6.8 * size:0.##}\"/>"),
        "B" => string.Create(
            CultureInfo.InvariantCulture,
            $"<path class=\"fill {look.Css}\" d=\"M{x:0.##} {y - (4.6 * size):0.##}l{4.6 * size:0.##} "
            + $"{8 * size:0.##}h-{9.2 * size:0.##}z\"/>"),
        _ => string.Create(CultureInfo.InvariantCulture, $"<path class=\"fill {look.Css}\" d=\"M{x:0.##} "
            + $"{y - (4.8 * size):0.##}l{4.8 * size:0.##} {4.8 * size:0.##} -{4.8 * size:0.##} {4.8 * size:0.##} -{4.8 * size:0.##} "
                + $"-{4.8 * size:0.##}z\"/>"),
    });

    public void Ring(double x, double y, double radius, string cls) =>
        _svg.Append(CultureInfo.InvariantCulture, $"<circle class=\"{cls}\" cx=\"{x:0.##}\" cy=\"{y:0.##}\" r=\"{radius:0.##}\"/>");

    /// <summary>A small wedge above a point.</summary>
    public void Wedge(double x, double y) =>
        _svg.Append(CultureInfo.InvariantCulture, $"<path class=\"wedge\" d=\"M{x:0.##} {y:0.##}l-3.5 -6h7z\"/>");

    /// <summary>The whole document: what was drawn, with its name and description for those who cannot see it, and its style.</summary>
    /// <param name="description">What it shows, in words.</param>
    /// <param name="role">img, or group where points are links.</param>
    /// <param name="id">Begins the ids inside; another one for each drawing of a page.</param>
    public string Document(int width, int height, string title, string description, string role, string id) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"acquire-chart\" viewBox=\"0 0 {width} {height}\" width=\"{width}\" "
            + $"height=\"{height}\" role=\"{role}\" aria-labelledby=\"{id}-title {id}-desc\">\n")
        + $"<title id=\"{id}-title\">{HtmlWriter.Escape(title)}</title>\n<desc id=\"{id}-desc\">{HtmlWriter.Escape(description)}</desc>\n"
        + SvgStyle.Sheet + "\n"
        + string.Create(CultureInfo.InvariantCulture, $"<rect class=\"paper\" width=\"{width}\" height=\"{height}\"/>\n")
        + _svg + "</svg>\n";
}

/// <summary>How a channel looks on paper and screen. Shape and dash tell it apart without any colour.</summary>
/// <param name="Css">Name of its colour in style sheets.</param>
/// <param name="Colour">Its colour on white, with a contrast of 4.5 to 1 at least.</param>
/// <param name="OnDark">Its colour on black.</param>
/// <param name="Dash">Lengths of dash and gap, in pixels; empty for a solid line.</param>
/// <param name="Shift">How far it is moved aside, in pixels, so that whiskers of one strip do not cover each other.</param>
internal sealed record ChartLook(string Letter, string Word, string Css, string Colour, string OnDark, float[] Dash, int Shift)
{
    /// <summary>How large markers are, 1 for the usual size: smaller where strips stand close.</summary>
    /// <param name="width">Pixels they share.</param>
    public static double MarkerSize(int strips, double width) => Math.Clamp(width / Math.Max(strips, 1) / 6, 0.4, 1);

    public static ChartLook Of(Channel? channel) => channel switch
    {
        Channel.Red => new("R", "red", "red", "#b3261e", "#ff9d94", [], -3),
        Channel.Green => new("G", "green", "green", "#1b6e2d", "#7fd794", [8, 3], 0),
        Channel.Blue => new("B", "blue", "blue", "#1a4fa3", "#94b9ff", [2, 3], 3),
        Channel.Visual => new("V", "visual", "ink", "#333333", "#dddddd", [8, 3, 2, 3], 0),
        _ => new("S", "colour spread", "ink", "#333333", "#dddddd", [], 0),
    };
}

/// <summary>The style sheet inside every SVG: light or dark as the reader's screen is set, always light on paper.</summary>
internal static class SvgStyle
{
    private static readonly string Light =
        "--paper:#fff;--ink:#222;--soft:#5a5a5a;--grid:#e4e4e4;--band:#f4f1ea;--limit:#222;" + Colours(l => l.Colour);
    private static readonly string Dark =
        "--paper:#14161a;--ink:#eee;--soft:#b5b5b5;--grid:#2c3038;--band:#1d2128;--limit:#eee;" + Colours(l => l.OnDark);

    public static string Sheet { get; } =
        $$"""
        <style>
        .acquire-chart { {{Light}} font: 12px "DejaVu Sans", Verdana, system-ui, sans-serif; background: var(--paper) }
        @media (prefers-color-scheme: dark) { .acquire-chart { {{Dark}} } }
        @media print { .acquire-chart { {{Light}} } }
        .acquire-chart text { fill: var(--ink) } .acquire-chart .small { font-size: 11px } .acquire-chart .soft { fill: var(--soft) }
        .acquire-chart .title { font-size: 15px; font-weight: 600 } .acquire-chart .name { font-weight: 600 }
        .acquire-chart .paper { fill: var(--paper) } .acquire-chart .band { fill: var(--band) } .acquire-chart .frame { fill: none; stroke: var(--soft) }
        .acquire-chart .grid { stroke: var(--grid) } .acquire-chart .zero { stroke: var(--soft) }
        .acquire-chart .control { stroke: var(--limit); stroke-width: 1.8 } .acquire-chart .action { stroke: var(--limit); stroke-dasharray: 6 4 }
        .acquire-chart .crossover { stroke: var(--soft); stroke-width: 1.5; stroke-dasharray: 1 3 } .acquire-chart .event { stroke: var(--soft); stroke-dasharray: 7 3 1 3 }
        .acquire-chart .found { stroke: var(--ink); stroke-dasharray: 3 2 } .acquire-chart .tag { fill: var(--paper); stroke: var(--ink) }
        .acquire-chart .line { fill: none; stroke-width: 1.4 } .acquire-chart .whisker { stroke-width: 1; opacity: .6 } .acquire-chart .natural { fill: none; stroke-width: 1.6 }
        .acquire-chart .wide { stroke-width: 1; stroke-dasharray: 1 4 } .acquire-chart .ring { fill: none; stroke: var(--ink); stroke-width: 1.2 } .acquire-chart .wedge { fill: var(--ink) }
        {{Rules()}}
        </style>
        """;

    private static string Colours(Func<ChartLook, string> colour) => string.Concat(
        Channels.Colours.Select(c => ChartLook.Of(c)).Select(l => string.Create(CultureInfo.InvariantCulture, $"--{l.Css}:{colour(l)};")));

    private static string Rules() => string
        .Join('\n', Channels.All.Select(c => ChartLook.Of(c)).Append(ChartLook.Of(null)).DistinctBy(l => (l.Css, l.Dash.Length)).Select(l =>
        string.Create(CultureInfo.InvariantCulture, $".acquire-chart .{l.Css} {{ stroke: var(--{l.Css}) }} .acquire-chart .fill.{l.Css} "
            + $"{{ fill: var(--{l.Css}); stroke: var(--paper); stroke-width: .6 }}")
        + (l.Dash.Length == 0 ? "" : string.Create(
            CultureInfo.InvariantCulture,
            $" .acquire-chart .line.{l.Css}.of-{l.Word} {{ stroke-dasharray: {string.Join(' ', l.Dash)} }}"))));
}
