using System.IO.Packaging;
using System.Xml.Linq;

namespace Acquire.Formats.Workbooks;

/// <summary>The part that names the sheets, in the order in which they are shown.</summary>
internal static class WorkbookXml
{
    private static readonly XNamespace Main = XlsxPackage.Main;
    private static readonly XNamespace R = XlsxPackage.Relationships;

    public static async Task WriteAsync(XlsxPackage package, IReadOnlyList<(string Name, PackagePart Part)> sheets)
    {
        var styles = await package.AddAsync("/xl/styles.xml", "spreadsheetml.styles+xml", WorkbookStyles.WriteAsync);
        var workbook = await package.AddAsync("/xl/workbook.xml", "spreadsheetml.sheet.main+xml", xml => new XElement(
            Main + "workbook",
            new XAttribute(XNamespace.Xmlns + "r", R.NamespaceName),
            new XElement(Main + "bookViews", new XElement(Main + "workbookView", new XAttribute("activeTab", 0))),
            new XElement(Main + "sheets", sheets.Select((s, i) => new XElement(
                Main + "sheet", new XAttribute("name", s.Name), new XAttribute("sheetId", i + 1), new XAttribute(R + "id", Id(i))))))
            .WriteToAsync(xml, CancellationToken.None));
        foreach (var (index, (_, part)) in sheets.Index())
        {
            _ = workbook.CreateRelationship(part.Uri, TargetMode.Internal, $"{XlsxPackage.Relationships}/worksheet", Id(index));
        }

        _ = workbook.CreateRelationship(styles.Uri, TargetMode.Internal, $"{XlsxPackage.Relationships}/styles", "rIdStyles");
        package.Begin(workbook);
    }

    private static string Id(int index) => string.Create(CultureInfo.InvariantCulture, $"rId{index + 1}");
}
