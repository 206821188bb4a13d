namespace Acquire.Analysis.Causes;

/// <summary>Where a fault lies.</summary>
public enum FaultOrigin
{
    /// <summary>In the solutions or the way they are used.</summary>
    Process,

    /// <summary>In the strips: fogged, old, heated.</summary>
    Strips,

    /// <summary>In the instrument: the process is not to blame.</summary>
    Instrument,
}
