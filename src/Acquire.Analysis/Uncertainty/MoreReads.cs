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
    /// <param name="reads">Reads of each patch so far, 1 at least.</param>
    /// <param name="inside">Probability of being inside when the reading variance is only this share of what it is now.</param>
    /// <param name="level">Probability asked for.</param>
    /// <returns>The number of further reads, 1 … <see cref="Most"/>; null when only a second strip can tell.</returns>
    public static int? ToDecide(int reads, Func<double, double> inside, double level = Verdicts.UsualLevel)
    {
        ArgumentNullException.ThrowIfNull(inside);
        for (var more = 1; more <= Most; more++)
        {
            if (Verdicts.Of(inside(reads / (double)(reads + more)), level) != Verdict.Undecided)
            {
                return more;
            }
        }

        return null;
    }
}
