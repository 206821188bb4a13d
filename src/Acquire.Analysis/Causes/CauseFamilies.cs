namespace Acquire.Analysis.Causes;

/// <summary>Which fault belongs to which family, and what a family is called.</summary>
public static class CauseFamilies
{
    /// <summary>The family of a signature.</summary>
    /// <exception cref="ArgumentException">The signature belongs to none; a test sees to it that this does not happen.</exception>
    public static CauseFamily Of(FaultSignature signature)
    {
        ArgumentNullException.ThrowIfNull(signature);
        return signature.Origin switch
        {
            FaultOrigin.Instrument => CauseFamily.Instrument,
            FaultOrigin.Strips => CauseFamily.Strips,
            _ => signature.Key switch
            {
                "retained-silver" or "bleach-fix-used-up" => CauseFamily.RetainedSilver,
                "leuco-cyan" => CauseFamily.LeucoCyan,
                "fixer-exhausted" or "sensitising-dye" or "poor-wash" or "final-rinse-missing" => CauseFamily.Stain,
                "bleach-in-developer" or "fixer-in-developer" => CauseFamily.Contamination,
                "developer-hot" or "over-time" or "agitation-high" or "developer-concentrated" or "over-replenished" or "developer-ph-high" => CauseFamily.DeveloperStrong,
                "developer-cold" or "under-time" or "agitation-low" or "developer-diluted" or "under-replenished" or "developer-ph-low"
                    or "developer-exhausted" or "developer-oxidised" or "acid-in-developer" => CauseFamily.DeveloperWeak,
                _ => throw new ArgumentException($"The fault '{signature.Key}' belongs to no family.", nameof(signature)),
            },
        };
    }

    /// <summary>The family in words.</summary>
    public static string Words(CauseFamily family) => family switch
    {
        CauseFamily.Instrument => "the densitometer",
        CauseFamily.Strips => "the strips",
        CauseFamily.RetainedSilver => "retained silver",
        CauseFamily.LeucoCyan => "leuco-cyan",
        CauseFamily.Stain => "stain or veil from fixing or washing",
        CauseFamily.Contamination => "a contaminated developer",
        CauseFamily.DeveloperStrong => "too much development",
        CauseFamily.DeveloperWeak => "too little development",
        _ => throw new ArgumentOutOfRangeException(nameof(family), family, null),
    };
}
