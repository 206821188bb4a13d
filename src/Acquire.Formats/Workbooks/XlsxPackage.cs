using System.IO.Packaging;
using System.Text;
using System.Xml;
using System.Xml.Linq;

namespace Acquire.Formats.Workbooks;

/// <summary>
/// The package of a workbook (ECMA-376 part 2), written part after part straight into the stream: what has been written is in no memory.
/// </summary>
internal sealed class XlsxPackage : IDisposable
{
    public const string Main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";

    public const string Relationships = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";

    private const string Types = "application/vnd.openxmlformats-officedocument.";

    private readonly Package _package;

    public XlsxPackage(Stream stream) => _package = Package.Open(stream, FileMode.Create, FileAccess.Write);

    /// <summary>Writes a part of XML.</summary>
    /// <param name="path">Its path in the package, such as <c>/xl/styles.xml</c>.</param>
    /// <param name="type">Its content type behind the prefix that all share.</param>
    /// <param name="write">Writes the XML.</param>
    public async Task<PackagePart> AddAsync(string path, string type, Func<XmlWriter, Task> write)
    {
        var part = _package.CreatePart(new Uri(path, UriKind.Relative), Types + type, CompressionOption.Normal);
        // Write only: a package that may be read too keeps every part in memory until it is closed.
        await using var stream = part.GetStream(FileMode.Create, FileAccess.Write);
        await using var xml =
            XmlWriter.Create(stream, new XmlWriterSettings { Async = true, Encoding = new UTF8Encoding(false), CloseOutput = false });
        await write(xml);
        await xml.FlushAsync();
        return part;
    }

    /// <summary>Names the part that the package is about.</summary>
    public void Begin(PackagePart workbook) =>
        _ = _package.CreateRelationship(workbook.Uri, TargetMode.Internal, $"{Relationships}/officeDocument", "rId1");

    public void Dispose() => _package.Close();
}

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

/// <summary>
/// The styles of the workbook. A deviation past a limit says so in its own number format too (<c>A</c> for action, <c>OUT</c>), so that
/// colour is never the only sign.
/// </summary>
internal static class WorkbookStyles
{
    private const string Xml =
        """
        <styleSheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">
          <numFmts count="5">
            <numFmt numFmtId="164" formatCode="yyyy\-mm\-dd\ hh:mm"/>
            <numFmt numFmtId="165" formatCode="0.000"/>
            <numFmt numFmtId="166" formatCode="\+0.000;\-0.000;0.000"/>
            <numFmt numFmtId="167" formatCode="\+0.000&quot; A&quot;;\-0.000&quot; A&quot;"/>
            <numFmt numFmtId="168" formatCode="\+0.000&quot; OUT&quot;;\-0.000&quot; OUT&quot;"/>
          </numFmts>
          <fonts count="3">
            <font><sz val="11"/><name val="Calibri"/></font>
            <font><b/><sz val="11"/><name val="Calibri"/></font>
            <font><b/><sz val="14"/><name val="Calibri"/></font>
          </fonts>
          <fills count="5">
            <fill><patternFill patternType="none"/></fill>
            <fill><patternFill patternType="gray125"/></fill>
            <fill><patternFill patternType="solid"><fgColor rgb="FFE7E6E6"/></patternFill></fill>
            <fill><patternFill patternType="solid"><fgColor rgb="FFFFE699"/></patternFill></fill>
            <fill><patternFill patternType="solid"><fgColor rgb="FFF4B183"/></patternFill></fill>
          </fills>
          <borders count="2">
            <border><left/><right/><top/><bottom/><diagonal/></border>
            <border><left/><right/><top/><bottom style="thin"><color rgb="FF808080"/></bottom><diagonal/></border>
          </borders>
          <cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs>
          <cellXfs count="8">
            <xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/>
            <xf numFmtId="0" fontId="1" fillId="2" borderId="1" xfId="0" applyFont="1" applyFill="1" applyBorder="1" applyAlignment="1"><alignment vertical="top" wrapText="1"/></xf>
            <xf numFmtId="164" fontId="0" fillId="0" borderId="0" xfId="0" applyNumberFormat="1" applyAlignment="1"><alignment horizontal="left"/></xf>
            <xf numFmtId="165" fontId="0" fillId="0" borderId="0" xfId="0" applyNumberFormat="1"/>
            <xf numFmtId="166" fontId="0" fillId="0" borderId="0" xfId="0" applyNumberFormat="1"/>
            <xf numFmtId="167" fontId="0" fillId="3" borderId="0" xfId="0" applyNumberFormat="1" applyFill="1"/>
            <xf numFmtId="168" fontId="1" fillId="4" borderId="0" xfId="0" applyNumberFormat="1" applyFont="1" applyFill="1"/>
            <xf numFmtId="0" fontId="2" fillId="0" borderId="0" xfId="0" applyFont="1"/>
          </cellXfs>
          <cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles>
        </styleSheet>
        """;

    public static async Task WriteAsync(XmlWriter xml)
    {
        using var text = XmlReader.Create(new StringReader(Xml), new XmlReaderSettings { Async = true, IgnoreWhitespace = true });
        await xml.WriteNodeAsync(text, defattr: false);
    }
}
