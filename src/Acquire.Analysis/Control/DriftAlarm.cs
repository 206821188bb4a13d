namespace Acquire.Analysis.Control;

/// <summary>A series was found to have moved. Indices count strips of the series from 0.</summary>
/// <param name="Detector">What noticed it.</param>
/// <param name="Side">Which way it moved.</param>
/// <param name="At">The strip at which it was noticed.</param>
/// <param name="Began">The strip at which it most probably began.</param>
/// <param name="Earliest">The earliest strip at which it may have begun (95 %).</param>
/// <param name="Latest">The latest.</param>
/// <param name="Before">Mean deviation before.</param>
/// <param name="After">Mean deviation from the beginning on.</param>
/// <param name="P">Chance of so clear a step in a series without one; null when it was not asked.</param>
public sealed record DriftAlarm(DetectorKind Detector, Side Side, int At, int Began, int Earliest, int Latest, double Before, double After, double? P)
{
    /// <summary>How far it moved.</summary>
    public double Step => After - Before;

    /// <summary>Whether it is a notice only, which chance brings about now and then.</summary>
    public bool IsNotice { get; init; }
}
