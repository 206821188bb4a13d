using System.Xml;

namespace Acquire.Formats.Workbooks;

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
