using System.Xml.Linq;
using Acquire.Analysis.Charts;
using Acquire.Bench.History;
using Acquire.Rendering;
using Acquire.Rendering.Charts;

namespace Acquire.Tests.Rendering.Charts;

public class ChartSvgTests
{
    private static readonly XNamespace Svg = "http://www.w3.org/2000/svg";

    [Theory]
    [InlineData(320)]
    [InlineData(960)]
    [InlineData(4000)]
    public void Svg_is_xml_with_a_marker_for_every_point_and_a_name_for_every_panel(int width)
    {
        var model = ChartModels.Season();
        var svg = XDocument.Parse(ChartSvg.Of(model, width)).Root!;
        Assert.Equal(model.Points().Count(), Points(svg).Count());
        string[] named =
            width < 560 ? ["HD − LD", "D-min", "+0.09"] : ["HD − LD: contrast", "D-min: stain and fog", "+0.09 control", "-0.07 action"];
        Assert.Empty(named.Except(Texts(svg)));
        Assert.Equal(width.ToString(CultureInfo.InvariantCulture), svg.Attribute("width")!.Value);
    }

    [Theory]
    [InlineData(320)]
    [InlineData(960)]
    public void Markers_and_lines_stay_on_the_sheet(int width)
    {
        var svg = XDocument.Parse(ChartSvg.Of(ChartModels.Season(), width)).Root!;
        var height = double.Parse(svg.Attribute("height")!.Value, CultureInfo.InvariantCulture);
        foreach (var (name, most) in new[] { ("x",
            width), ("x1", width), ("x2", width), ("cx", width), ("y", height), ("y1", height), ("y2", height), ("cy", height) })
        {
            var values = svg.Descendants().Attributes(name).Select(a => double.Parse(a.Value, CultureInfo.InvariantCulture)).ToList();
            Assert.NotEmpty(values);
            Assert.All(values, v => Assert.InRange(v, 0, most));
        }
    }

    [Fact]
    public void Each_channel_has_a_shape_and_a_dash_of_its_own()
    {
        var svg = XDocument.Parse(ChartSvg.Of(ChartModels.Season())).Root!;
        var shapes = Points(svg).Select(p => p.Elements().First(e => e.Name != Svg + "title"))
            .Select(e => (Class: e.Attribute("class")!.Value,
                Shape: e.Name.LocalName + (e.Attribute("d")?.Value.Contains('h', StringComparison.Ordinal) == true ? " triangle" : "")))
            .Distinct().ToList();
        Assert.Equal(4, shapes.Select(s => s.Class).Distinct().Count());
        Assert.Equal(4, shapes.Select(s => s.Shape).Distinct().Count());
        var style = svg.Element(Svg + "style")!.Value;
        Assert.Contains(".line.green.of-green { stroke-dasharray: 8 3 }", style, StringComparison.Ordinal);
        Assert.Contains(".line.blue.of-blue { stroke-dasharray: 2 3 }", style, StringComparison.Ordinal);
    }

    [Fact]
    public void Each_point_says_its_numbers_and_strips_past_a_limit_are_ringed()
    {
        var model = ChartModels.Season();
        var points = Points(XDocument.Parse(ChartSvg.Of(model)).Root!).ToList();
        Assert.All(points, p => Assert.Matches(
            @"^2026-\d\d-\d\d \d\d:\d\d: .+ [+-]?\d\.\d{3} ±\d\.\d{3}, (inside|action|out)", p.Element(Svg + "title")!.Value));
        Assert.Equal(
            model.Points().Sum(p => p.Zone switch { Zone.Action => 1, Zone.Out => 2, _ => 0 }),
            points.Elements().Count(e => e.Attribute("class")?.Value == "ring"));
        Assert.Contains(model.Points(), p => p.Zone == Zone.Action);
    }

    [Fact]
    public void Every_point_has_a_whisker_from_its_lower_to_its_upper_end()
    {
        var model = ChartModels.Season(8, leaveOut: -1);
        var paths = XDocument.Parse(ChartSvg.Of(model)).Root!.Descendants(Svg + "path")
            .Where(p => p.Attribute("class")!.Value.StartsWith("whisker ", StringComparison.Ordinal))
            .ToList();
        Assert.Equal(model.Panels.Sum(p => p.Lines.Length), paths.Count);
        var strokes = paths.Sum(p => p.Attribute("d")!.Value.Count(c => c == 'M'));
        var ends = model.Panels.Sum(
            p => p.Lines.SelectMany(l => l.Points).Sum(q => (p.Range.Holds(q.Lower) ? 1 : 0) + (p.Range.Holds(q.Upper) ? 1 : 0)));
        Assert.Equal(model.Points().Count(p => p.Upper > p.Lower) + ends, strokes);
    }

    [Fact]
    public void Svg_has_title_and_description_and_loads_nothing()
    {
        var text = ChartSvg.Of(ChartModels.Season(), id: "plot7");
        var svg = XDocument.Parse(text).Root!;
        Assert.Equal("plot7-title plot7-desc", svg.Attribute("aria-labelledby")!.Value);
        Assert.Contains("HD − LD: 60 strips, ", svg.Element(Svg + "desc")!.Value, StringComparison.Ordinal);
        Assert.DoesNotContain(svg.Descendants(), e => e.Name.LocalName is "script" or "image" or "use" or "foreignObject");
        Assert.DoesNotContain("url(", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Points_lead_to_their_records_when_asked()
    {
        var model = ChartModels.Season();
        var links = XDocument.Parse(ChartSvg.Of(model, link: id => $"/strips/{id}?a&b")).Root!.Descendants(Svg + "a")
            .Select(a => a.Attribute("href")!.Value);
        Assert.Equal(model.Points().Select(p => $"/strips/{p.StripId}?a&b").Order(), links.Order());
    }

    [Fact]
    public void Users_words_cannot_become_markup()
    {
        var svg = XDocument.Parse(ChartSvg.Of(ChartModels.Season())).Root!;
        Assert.Contains(Texts(svg), t => t.Contains("2 L & a <new> lid", StringComparison.Ordinal));
        Assert.Equal("a b", HtmlWriter.Escape("a\u0001b"));
    }

    [Fact]
    public void Events_findings_and_lots_are_marked_and_explained()
    {
        var model = ChartModels.Season();
        var svg = XDocument.Parse(ChartSvg.Of(model)).Root!;
        Assert.Equal(2 * model.Panels.Length, svg.Descendants(Svg + "line").Count(l => l.Attribute("class")!.Value == "event"));
        Assert.Single(svg.Descendants(Svg + "line"), l => l.Attribute("class")!.Value == "found");
        Assert.Empty(new[] { "lot 2417", "lot 2611", "1", "2", "a", "new lot" }.Except(Texts(svg)));
        Assert.Contains(Texts(svg), t => t.StartsWith("a HD − LD", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(2)]
    public void Few_strips_make_a_chart_too(int count)
    {
        var points = ChartHistory.Strips(count).Select(s => StripHistory.PointOf(s, TimeProvider.System)).ToList();
        var svg = ChartSvg.Of(ChartModel.Of(new ChartRequest(ChartHistory.Sheet, points)));
        Assert.Equal(count * 11, Points(XDocument.Parse(svg).Root!).Count());
        Assert.DoesNotContain("NaN", svg, StringComparison.Ordinal);
        Assert.DoesNotContain("∞", svg, StringComparison.Ordinal);
    }

    private static IEnumerable<XElement> Points(XElement svg) =>
        svg.Descendants(Svg + "g").Where(g => g.Attribute("class")?.Value == "point");

    private static IEnumerable<string> Texts(XElement svg) => svg.Descendants(Svg + "text").Select(t => t.Value);
}
