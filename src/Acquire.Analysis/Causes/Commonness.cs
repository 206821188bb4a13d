namespace Acquire.Analysis.Causes;

/// <summary>
/// How common a fault is before anything is looked at, against one that happens to everybody. Common practice, no source: temperature, time, use and air trouble every
/// darkroom; acid or bleach in the developer, and a developer mixed to another pH, are rare.
/// </summary>
internal static class Commonness
{
    private const double Rare = 0.5;

    public static double Of(FaultSignature signature) => signature.Key switch
    {
        "acid-in-developer" or "bleach-in-developer" or "developer-ph-high" or "developer-ph-low" => Rare,
        _ => 1,
    };
}
