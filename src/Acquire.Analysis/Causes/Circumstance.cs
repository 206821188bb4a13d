using Acquire.Analysis.Judgement;
using Acquire.Analysis.Control;

namespace Acquire.Analysis.Causes;

/// <summary>How history and books weigh on a cause: each a factor on its odds, with the
/// sentence that says why. Factors are judgement, no source.</summary>
internal static class Circumstance
{
    /// <summary>How many days without film count as a pause.</summary>
    private const double LongPause = 14;

    private const double Old = 28;
    private const double ManyRolls = 8;

    public static IEnumerable<(double Factor, string Sentence)> Of(Possibility what, CauseContext context) =>
        what is FaultSignature fault ? Of(fault, context) : OfOther(what, context);

    private static IEnumerable<(double Factor, string Sentence)> OfOther(Possibility what, CauseContext context)
    {
        if (what.Family == FaultFamily.Reading || what.Family == FaultFamily.DamagedPatch)
        {
            if (context.Shape is DriftShape.Gradual)
            {
                yield return (0.2, "It came little by little; a mistake comes once.");
            }
            else if (context.Shape is DriftShape.Jump)
            {
                yield return (0.5, "More than one strip shows it; a mistake comes once.");
            }
        }
        else if (what.Family == FaultFamily.OtherStatus && context.CheckLacking)
        {
            yield return (2, "No passed calibration check was in force.");
        }
    }

    private static IEnumerable<(double Factor, string Sentence)> Of(FaultSignature signature, CauseContext context)
    {
        var onset = signature.Onset;
        if (context.BorneOut.Contains(signature.Key))
        {
            // A test outweighs all that only goes along with a fault; no other factor comes near.
            yield return (20, "The strip was treated again, and what this does to it came back.");
        }

        if (context.Shape is DriftShape.Jump or DriftShape.SingleStrip)
        {
            yield return onset is FaultOnset.Jump
                ? (2, "It came at once, as this does.")
                : onset is FaultOnset.Constant ? (1, "") : (0.5, "It came at once; this usually comes little by little.");
        }
        else if (context.Shape is DriftShape.Gradual)
        {
            yield return onset is FaultOnset.DriftWithDays or FaultOnset.DriftWithUse
                ? (2.5, "It came little by little, as this does.")
                : (0.4, "It came little by little; this usually comes at once.");
        }

        if (signature.Origin == FaultOrigin.Instrument && context.CheckLacking)
        {
            yield return (3, "No passed calibration check was in force.");
        }

        if (signature.Origin == FaultOrigin.Strips)
        {
            if (context.LotExpired)
            {
                yield return (4, "The strips are past their expiry.");
            }

            if (context.Thaws is > 3 and var thaws)
            {
                yield return (2, FormattableString.Invariant($"The strips were taken out of the cold {thaws} times."));
            }
        }

        if (context.NewMix && signature.Occasion is FaultOccasion.NewMix)
        {
            yield return (3, "A new mix went into use shortly before.");
        }

        if (context.Repaired && signature.Origin == FaultOrigin.Process && (onset is FaultOnset.Jump or FaultOnset.Constant))
        {
            yield return (1.5, "Something was repaired or set anew shortly before.");
        }

        if (context.PauseDays is > LongPause && signature.Occasion is FaultOccasion.Standing)
        {
            yield return (2, FormattableString.Invariant($"The process had stood for {context.PauseDays:0} days."));
        }

        if (context.AgeDays is > Old && onset is FaultOnset.DriftWithDays && signature.Origin == FaultOrigin.Process)
        {
            yield return (2, FormattableString.Invariant($"The solution was {context.AgeDays:0} days old."));
        }

        if (context.RollsPerLitre is > ManyRolls && onset is FaultOnset.DriftWithUse)
        {
            yield return (2, FormattableString.Invariant($"{context.RollsPerLitre:0} rolls per litre had gone through."));
        }
        // What wears by use can hardly have worn yet, so this speaks against it; most circumstances say nothing where they are absent.
        else if (context.RollsPerLitre is < 1 && onset is FaultOnset.DriftWithUse)
        {
            yield return (0.3, "Hardly any film had gone through.");
        }
    }
}

/// <summary>What history and books tell beside the strip itself. Whatever is not known is left out and weighs nothing.</summary>
public sealed record CauseContext
{
    /// <summary>Nothing but the strip.</summary>
    public static CauseContext None { get; } = new();

    /// <summary>What is known of the reading of a strip; by its record alone unless a store tells more.</summary>
    public Func<StripRecord, JudgingGround> Ground { get; init; } = record => JudgingGround.Of(record);

    /// <summary>How strips of this process scatter when nothing is wrong; of a line with a history what it told.</summary>
    public NaturalScatter Scatter { get; init; } = new();

    /// <summary>How the process came to where it is: at once or little by little; null when the history does not tell.</summary>
    public DriftShape? Shape { get; init; }

    /// <summary>The strip that tells where the process stood when it moved at once; then the change since is weighed, as what came at once
    /// does not explain what was there before. Null when the deviations from aim are weighed.</summary>
    public StripRecord? Before { get; init; }

    /// <summary>The aims of other lots, one of which the strip may be of.</summary>
    public ImmutableArray<LotAims> OtherLots { get; init; } = [];

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
