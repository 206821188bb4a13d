namespace Acquire.Analysis.Causes;

/// <summary>Faults that one strip hardly tells apart: they move the patches alike, and the books or a test must decide among them.</summary>
public enum CauseFamily
{
    /// <summary>Zero, slope or light of the densitometer.</summary>
    Instrument,

    /// <summary>Fogged, old or heated strips.</summary>
    Strips,

    /// <summary>Silver left in the film.</summary>
    RetainedSilver,

    /// <summary>Cyan dye that has not formed fully.</summary>
    LeucoCyan,

    /// <summary>Stain or veil: fixing, washing.</summary>
    Stain,

    /// <summary>Something in the developer that does not belong there.</summary>
    Contamination,

    /// <summary>A developer that does too much.</summary>
    DeveloperStrong,

    /// <summary>A developer that does too little.</summary>
    DeveloperWeak,
}
