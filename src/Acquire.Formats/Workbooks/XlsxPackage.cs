using System.IO.Packaging;
using System.Text;
using System.Xml;

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
