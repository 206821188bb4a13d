using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Uncertainty;

/// <summary>How probable it is that a true value lies inside a limit (JCGM 106:2012, clause 7): normal, or Student's t
/// where the uncertainty itself rests on few readings.</summary>
public static class Conformity
{
    /// <summary>Probability, 0 … 1, that the true deviation lies inside.</summary>
    /// <param name="deviation">The measured deviation.</param>
    /// <param name="standardUncertainty">Its standard uncertainty, in the same unit; 0 makes it a plain comparison.</param>
    /// <param name="degreesOfFreedom">Of the uncertainty; infinite for the normal distribution.</param>
    public static double Inside(
        Limit limit, double deviation, double standardUncertainty, double degreesOfFreedom = double.PositiveInfinity)
    {
        if (standardUncertainty == 0)
        {
            return limit.Holds(deviation) ? 1 : 0;
        }

        var above = limit.Upper is { } upper ? Tail((upper - deviation) / standardUncertainty, degreesOfFreedom) : 0;
        var below = limit.Lower is { } lower ? Tail((deviation - lower) / standardUncertainty, degreesOfFreedom) : 0;
        return Math.Clamp(1 - above - below, 0, 1);
    }

    /// <summary>Chance of more than z.</summary>
    private static double Tail(double z, double freedom)
    {
        // The tail on both sides keeps its digits where 1 − P would lose them.
        var both = Quantiles.StudentTail(z, Math.Max(freedom, 1)) / 2;
        return z >= 0 ? both : 1 - both;
    }
}

/// <summary>Whether a true value is inside its limit, the uncertainty counted in.</summary>
public enum Verdict
{
    /// <summary>Inside, with the probability asked for.</summary>
    InControl,

    /// <summary>Neither can be said with the probability asked for.</summary>
    Undecided,

    /// <summary>Outside, with the probability asked for.</summary>
    OutOfControl,
}

/// <summary>The rule that makes a verdict of a probability.</summary>
public static class Verdicts
{
    /// <summary>The probability asked for when nothing else is set.</summary>
    public const double UsualLevel = 0.95;

    /// <summary>Makes a verdict.</summary>
    /// <param name="probabilityInside">Probability, 0 … 1, that the true value is inside.</param>
    /// <param name="level">Probability asked for, above 0.5.</param>
    public static Verdict Of(double probabilityInside, double level = UsualLevel) =>
        probabilityInside >= level ? Verdict.InControl : probabilityInside <= 1 - level ? Verdict.OutOfControl : Verdict.Undecided;

    /// <summary>The verdict in words.</summary>
    public static string Word(this Verdict verdict) => verdict switch
    {
        Verdict.InControl => "in control",
        Verdict.OutOfControl => "out of control",
        _ => "undecided",
    };

    /// <summary>The verdict in the word that scripts rely on; null for none.</summary>
    public static string? Code(this Verdict? verdict) => verdict switch
    {
        Verdict.InControl => "in",
        Verdict.OutOfControl => "out",
        Verdict.Undecided => "undecided",
        _ => null,
    };
}

/// <summary>What would settle an undecided verdict.</summary>
public static class MoreReads
{
    /// <summary>More reads than this of one patch are nobody's evening.</summary>
    public const int Most = 30;

    /// <summary>How many more reads of each patch would decide, if the deviation stayed what it is. Reads thin out the reading scatter
    /// only; what the aim, the display's step and the calibration leave open stays.</summary>
    /// <param name="reads">Reads of each patch so far, 1 at least.</param>
    /// <param name="inside">Probability of being inside when the reading variance is only this share of what it is now.</param>
    /// <param name="level">Probability asked for.</param>
    /// <returns>The number of further reads, 1 … <see cref="Most"/>; null when only a second strip can tell.</returns>
    public static int? ToDecide(int reads, Func<double, double> inside, double level = Verdicts.UsualLevel)
    {
        if (!Decides(Most))
        {
            return null;
        }

        // What decides with some reads decides with more.
        var (least, most) = (1, Most);
        while (least < most)
        {
            var middle = (least + most) / 2;
            (least, most) = Decides(middle) ? (least, middle) : (middle + 1, most);
        }

        return most;

        bool Decides(int more) => Verdicts.Of(inside(reads / (double)(reads + more)), level) != Verdict.Undecided;
    }
}
