using Acquire.Analysis.Control;

namespace Acquire.Analysis.Causes;

/// <summary>What history and books tell beside the strip itself. Whatever is not known is left out and weighs nothing.</summary>
public sealed record CauseContext
{
    /// <summary>Nothing but the strip.</summary>
    public static CauseContext None { get; } = new();

    /// <summary>How strips of this process scatter when nothing is wrong.</summary>
    public NaturalScatter Scatter { get; init; } = new();

    /// <summary>How the process came to where it is: at once or little by little; null when the history is too short to tell.</summary>
    public DriftShape? Shape { get; init; }

    /// <summary>
    /// The strip that tells where the process stood when it moved at once; then the change since is weighed, as what came at once does not
    /// explain what was there
    /// before. Null when the deviations from aim are weighed.
    /// </summary>
    public StripRecord? Before { get; init; }

    /// <summary>Whether the calibration check in force failed, is overdue, or was never made.</summary>
    public bool CheckLacking { get; init; }

    /// <summary>Whether the strips are past their expiry.</summary>
    public bool LotExpired { get; init; }

    /// <summary>How often the strips have been taken out of the cold; null when not told.</summary>
    public int? Thaws { get; init; }

    /// <summary>Whether a new mix went into use shortly before.</summary>
    public bool NewMix { get; init; }

    /// <summary>Whether something was repaired or set anew shortly before.</summary>
    public bool Repaired { get; init; }

    /// <summary>Days since the process ran last; null when not known.</summary>
    public double? PauseDays { get; init; }

    /// <summary>Age of the solution in days; null when not known.</summary>
    public double? AgeDays { get; init; }

    /// <summary>Film area through the solution, rolls (80 in², 0.0516 m²) per litre; null when not known.</summary>
    public double? RollsPerLitre { get; init; }

    /// <summary>Keys of faults that the user has ruled out by a test, such as bleaching the strip again.</summary>
    public ImmutableHashSet<string> RuledOut { get; init; } = [];

    /// <summary>Keys of faults that such a test bears out.</summary>
    public ImmutableHashSet<string> BorneOut { get; init; } = [];
}
