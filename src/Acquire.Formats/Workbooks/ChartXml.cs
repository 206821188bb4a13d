using System.Xml;
using System.Xml.Linq;

namespace Acquire.Formats.Workbooks;

/// <summary>A chart as DrawingML (ECMA-376 part 1, 21.2): points against date, joined by lines.</summary>
internal static class ChartXml
{
    private static readonly XNamespace C = "http://schemas.openxmlformats.org/drawingml/2006/chart";
    private static readonly XNamespace A = "http://schemas.openxmlformats.org/drawingml/2006/main";

    public static Task WriteAsync(XmlWriter xml, DeviationChart chart) => new XElement(
        C + "chartSpace",
        new XAttribute(XNamespace.Xmlns + "c", C.NamespaceName),
        new XAttribute(XNamespace.Xmlns + "a", A.NamespaceName),
        new XElement(
            C + "chart",
            Title(chart.Title, 1200),
            Value("autoTitleDeleted", 0),
            new XElement(
                C + "plotArea",
                new XElement(C + "layout"),
                new XElement(
                    C + "scatterChart",
                    Value("scatterStyle", "lineMarker"),
                    Value("varyColors", 0),
                    chart.Series.Select((s, i) => Series(chart, s, i)),
                    Value("axId", 1),
                    Value("axId", 2)),
                Axis(1, 2, "b", "yyyy\\-mm\\-dd", null, "low"),
                Axis(2, 1, "l", "\\+0.00;\\-0.00;0", $"deviation from aim ({chart.Unit})", "low")),
            new XElement(C + "legend", Value("legendPos", "b"), LimitEntries(chart), Value("overlay", 0)),
            Value("plotVisOnly", 1),
            Value("dispBlanksAs", "gap"))).WriteToAsync(xml, CancellationToken.None);

    private static XElement Series(DeviationChart chart, ChartSeries series, int index)
    {
        return new XElement(
            C + "ser",
            Value("idx", index),
            Value("order", index),
            new XElement(C + "tx", new XElement(C + "strRef", new XElement(C + "f", series.NameCell))),
            new XElement(C + "spPr", Line(series.Look)),
            series.Look.IsLimit ? new XElement(C + "marker", Value("symbol", "none")) : Marker(series.Look),
            new XElement(C + "xVal", new XElement(C + "numRef", new XElement(C + "f", chart.Dates))),
            new XElement(C + "yVal", new XElement(C + "numRef", new XElement(C + "f", series.Values))),
            Value("smooth", 0));
    }

    private static XElement Line(SeriesLook look) => new(
        A + "ln",
        new XAttribute("w", look.Kind == SeriesKind.ControlLimit ? 19050 : 12700),
        Fill(Colour(look)),
        look.Kind == SeriesKind.ActionLimit ? new XElement(A + "prstDash", new XAttribute("val", "dash")) : null);

    private static XElement Marker(SeriesLook look) => new(
        C + "marker",
        Value(
            "symbol",
            look.Channel switch { Channel.Red => "circle", Channel.Green => "triangle", Channel.Blue => "square", _ => "diamond" }),
        Value("size", 7),
        new XElement(C + "spPr", Fill(Colour(look))));

    private static string Colour(SeriesLook look) => look.Channel switch
    {
        Channel.Red => "C00000",
        Channel.Green => "2E7D32",
        Channel.Blue => "1F4E9E",
        _ => look.IsLimit ? "7F7F7F" : "000000",
    };

    private static XElement Fill(string colour) => new(A + "solidFill", new XElement(A + "srgbClr", new XAttribute("val", colour)));

    private static XElement Axis(int id, int crosses, string position, string format, string? title, string labels) => new(
        C + "valAx",
        Value("axId", id),
        new XElement(C + "scaling", Value("orientation", "minMax")),
        Value("delete", 0),
        Value("axPos", position),
        position == "l" ? new XElement(
            C + "majorGridlines", new XElement(C + "spPr", new XElement(A + "ln", new XAttribute("w", 6350), Fill("D9D9D9")))) : null,
        title is null ? null : Title(title, 900),
        new XElement(C + "numFmt", new XAttribute("formatCode", format), new XAttribute("sourceLinked", 0)),
        Value("majorTickMark", "out"),
        Value("minorTickMark", "none"),
        Value("tickLblPos", labels),
        Value("crossAx", crosses),
        Value("crosses", "autoZero"),
        Value("crossBetween", "midCat"));

    private static XElement Title(string text, int size) => new(
        C + "title",
        new XElement(
            C + "tx",
            new XElement(
                C + "rich",
                new XElement(A + "bodyPr"),
                new XElement(
                    A + "p",
                    new XElement(A + "pPr", new XElement(A + "defRPr", new XAttribute("sz", size), new XAttribute("b", 1))),
                    new XElement(
                        A + "r",
                        new XElement(A + "rPr", new XAttribute("lang", "en"), new XAttribute("sz", size), new XAttribute("b", 1)),
                        new XElement(A + "t", XlsxText.Of(text)))))),
        Value("overlay", 0));

    /// <summary>Of the limits one entry each is enough in the legend.</summary>
    private static IEnumerable<XElement> LimitEntries(DeviationChart chart) => chart.Series
        .Select((s, i) => (s.Look, Index: i))
        .Where(s => s.Look.IsLimit)
        .GroupBy(s => s.Look)
        .SelectMany(g => g.Skip(1))
        .Select(s => new XElement(C + "legendEntry", Value("idx", s.Index), Value("delete", 1)));

    private static XElement Value(string name, object value) =>
        new(C + name, new XAttribute("val", Convert.ToString(value, CultureInfo.InvariantCulture)!));
}

/// <summary>Where the charts lie on their sheet: two side by side, row after row.</summary>
internal static class DrawingXml
{
    private const int Rows = 20;
    private const int Columns = 10;
    private const int Top = 3;

    private static readonly XNamespace D = "http://schemas.openxmlformats.org/drawingml/2006/spreadsheetDrawing";
    private static readonly XNamespace A = "http://schemas.openxmlformats.org/drawingml/2006/main";
    private static readonly XNamespace C = "http://schemas.openxmlformats.org/drawingml/2006/chart";
    private static readonly XNamespace R = XlsxPackage.Relationships;

    public static Task WriteAsync(XmlWriter xml, IReadOnlyList<DeviationChart> charts) => new XElement(
        D + "wsDr",
        new XAttribute(XNamespace.Xmlns + "xdr", D.NamespaceName),
        new XAttribute(XNamespace.Xmlns + "a", A.NamespaceName),
        charts.Select(Anchor)).WriteToAsync(xml, CancellationToken.None);

    private static XElement Anchor(DeviationChart chart, int index)
    {
        var (row, column) = (Top + (index / 2 * Rows), index % 2 * Columns);
        return new XElement(
            D + "twoCellAnchor",
            Corner("from", row, column),
            Corner("to", row + Rows - 1, column + Columns - 1),
            new XElement(
                D + "graphicFrame",
                new XAttribute("macro", ""),
                new XElement(
                    D + "nvGraphicFramePr",
                    new XElement(
                        D + "cNvPr",
                        new XAttribute("id", index + 2),
                        new XAttribute("name", $"Chart {index + 1}"),
                        new XAttribute("descr", XlsxText.Of(chart.Title))),
                    new XElement(D + "cNvGraphicFramePr")),
                new XElement(
                    D + "xfrm",
                    new XElement(A + "off", new XAttribute("x", 0), new XAttribute("y", 0)),
                    new XElement(A + "ext", new XAttribute("cx", 0), new XAttribute("cy", 0))),
                new XElement(
                    A + "graphic",
                    new XElement(
                        A + "graphicData",
                        new XAttribute("uri", C.NamespaceName),
                        new XElement(
                            C + "chart",
                            new XAttribute(XNamespace.Xmlns + "r", R.NamespaceName),
                            new XAttribute(R + "id", RelationshipId(index)))))),
            new XElement(D + "clientData"));
    }

    public static string RelationshipId(int index) => string.Create(CultureInfo.InvariantCulture, $"rId{index + 1}");

    private static XElement Corner(string name, int row, int column) => new(
        D + name,
        new XElement(D + "col", column), new XElement(D + "colOff", 0), new XElement(D + "row", row), new XElement(D + "rowOff", 0));
}

/// <summary>A chart of one parameter of one process line: deviation against date, with limits.</summary>
/// <param name="Title">What it shows.</param>
/// <param name="Dates">Cells with the dates.</param>
/// <param name="Series">What is drawn.</param>
internal sealed record DeviationChart(string Title, string Unit, string Dates, ImmutableArray<ChartSeries> Series);

/// <summary>A series of a chart.</summary>
/// <param name="Look">How it is drawn.</param>
/// <param name="Values">Cells with the values.</param>
internal sealed record ChartSeries(string Name, SeriesLook Look, string NameCell, string Values);

/// <summary>How a series is drawn: colours differ in their marks too, limits in their dashes.</summary>
/// <param name="Kind">What it shows.</param>
/// <param name="Channel">Of which channel; null for one number, or a limit, over all.</param>
internal readonly record struct SeriesLook(SeriesKind Kind, Channel? Channel)
{
    public bool IsLimit => Kind != SeriesKind.Deviation;
}

internal enum SeriesKind
{
    Deviation,
    ActionLimit,
    ControlLimit,
}
