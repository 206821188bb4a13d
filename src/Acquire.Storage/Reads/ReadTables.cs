namespace Acquire.Storage.Reads;

/// <summary>
/// The tables that hold the reads of a record. Reference strips and control strips have the same three: <c>…_patch</c>, <c>…_read</c>
/// and <c>…_line</c>.
/// </summary>
internal sealed record ReadTables(string Patch, string Read, string Line)
{
    public static ReadTables Strip { get; } = new("strip_patch", "strip_read", "strip_line");

    public static ReadTables LotReference { get; } = new("lot_reference_patch", "lot_reference_read", "lot_reference_line");
}
