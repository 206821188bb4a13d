using System.Xml;
using System.Xml.Linq;

namespace Acquire.Formats.Workbooks;

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
