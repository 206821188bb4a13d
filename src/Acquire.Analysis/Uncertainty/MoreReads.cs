using Acquire.Domain.Processes;

namespace Acquire.Analysis.Uncertainty;

/// <summary>What would settle an undecided verdict.</summary>
public static class MoreReads
{
    /// <summary>More reads than this of one patch are nobody's evening.</summary>
    public const int Most = 30;

    /// <summary>
    /// How many more reads of each patch would decide, if the deviation stayed what it is. Reads thin out the reading scatter only; what the aim,
    /// the display's step and the calibration leave open stays.
    /// </summary>
    /// <param name="limit">The limit.</param>
    /// <param name="deviation">The deviation as measured.</param>
    /// <param name="reads">Reads of each patch so far, 1 at least.</param>
    /// <param name="readingVariance">The part of the variance that goes down with the reads, as it is with so many.</param>
    /// <param name="otherVariance">The part that stays.</param>
    /// <param name="level">Probability asked for.</param>
    /// <returns>The number of further reads, 1 … <see cref="Most"/>; null when only a second strip can tell.</returns>
    public static int? ToDecide(
        Limit limit, double deviation, int reads, double readingVariance, double otherVariance, double level = Verdicts.UsualLevel)
    {
        for (var more = 1; more <= Most; more++)
        {
            var uncertainty = Math.Sqrt(otherVariance + (readingVariance * reads / (reads + more)));
            if (Verdicts.Of(Conformity.Inside(limit, deviation, uncertainty), level) != Verdict.Undecided)
            {
                return more;
            }
        }

        return null;
    }
}
