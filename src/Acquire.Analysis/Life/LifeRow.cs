namespace Acquire.Analysis.Life;

/// <summary>One strip as the life of a solution sees it.</summary>
/// <param name="Deviation">Deviation from aim of one parameter and channel.</param>
/// <param name="Bottle">The bottle.</param>
/// <param name="Lot">The strip lot: its aims have an error that all its strips share.</param>
/// <param name="AgeDays">Days since the solution was mixed.</param>
/// <param name="AreaPerLitre">Film area that went through before, m² per litre; null when the books do not tell.</param>
/// <param name="Storage">How the bottle is kept; null when not told.</param>
/// <param name="Line">The process line; null when not told.</param>
/// <param name="Method">The line's method; null when not told.</param>
/// <param name="Strip">The strip; null when it has no record.</param>
public sealed record LifeRow(
    double Deviation, string Bottle, string Lot, double AgeDays, double? AreaPerLitre = null, string? Storage = null, string? Line = null, string? Method = null,
    Guid? Strip = null);
