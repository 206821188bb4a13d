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
    /// <param name="look">The channel.</param>
    /// <param name="x">Its middle.</param>
    /// <param name="y">Its middle.</param>
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
    /// <param name="width">Width in pixels.</param>
    /// <param name="height">Height in pixels.</param>
    /// <param name="title">Its name.</param>
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
