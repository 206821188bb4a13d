namespace Acquire.Analysis.Causes;

/// <summary>The signatures that are known, by process. A process without any has none: nothing is carried over from another.</summary>
public static class FaultSignatures
{
    /// <summary>All of them.</summary>
    public static ImmutableArray<FaultSignature> All { get; } =
    [
        .. DeveloperStrength.All, .. DeveloperCondition.All, .. Contamination.All, .. BleachAndFix.All, .. StripsAndInstrument.All,
    ];

    /// <summary>Those of one process; empty when none are known.</summary>
    public static ImmutableArray<FaultSignature> Of(string processKey) =>
        [.. All.Where(s => string.Equals(s.ProcessKey, processKey, StringComparison.OrdinalIgnoreCase))];

    /// <summary>Finds one by key; null when there is none.</summary>
    public static FaultSignature? Find(string key) => All.FirstOrDefault(s => string.Equals(s.Key, key, StringComparison.OrdinalIgnoreCase));
}
