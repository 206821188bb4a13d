namespace Acquire.Storage.Reads;

/// <summary>
/// The tables that hold the reads of a record. Every kind of record has the same three: <c>…_patch</c>, <c>…_read</c>
/// and <c>…_line</c>.
/// </summary>
internal sealed record ReadTables(string Patch, string Read, string Line)
{
    public static ReadTables Strip { get; } = new("strip_patch", "strip_read", "strip_line");

    public static ReadTables LotReference { get; } = new("lot_reference_patch", "lot_reference_read", "lot_reference_line");

    public static ReadTables CalibrationCheck { get; } = new("calibration_check_patch", "calibration_check_read", "calibration_check_line");

    public static ReadTables RepeatabilityTest { get; } = new("repeatability_test_patch", "repeatability_test_read", "repeatability_test_line");

    public static ReadTables ReferenceRecheck { get; } = new("reference_recheck_patch", "reference_recheck_read", "reference_recheck_line");
}
