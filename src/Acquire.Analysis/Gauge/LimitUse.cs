namespace Acquire.Analysis.Gauge;

/// <summary>What the instrument's scatter uses up of one limit of the process.</summary>
/// <param name="Parameter">The parameter.</param>
/// <param name="Channel">The channel; null for a spread over the colours.</param>
/// <param name="IsControl">Whether it is the control limit; else the action limit.</param>
/// <param name="Limit">The limit.</param>
/// <param name="S">
/// Standard deviation of the parameter from one read of each patch: s for a patch, √2 · s for a difference of two.
/// </param>
/// <param name="Width">Upper minus lower side; with one side, its distance from the aim.</param>
/// <param name="Share">6 · <paramref name="S"/> over <paramref name="Width"/>.</param>
/// <param name="ReadsNeeded">
/// Reads of each patch after which the reading part of the 95 % expanded uncertainty is small enough; null when no number of reads
/// gets there.
/// </param>
/// <param name="Explanation">How share and reads were reckoned, in words.</param>
public sealed record LimitUse(
    Parameter Parameter,
    Channel? Channel,
    bool IsControl,
    Limit Limit,
    double S,
    double Width,
    double Share,
    int? ReadsNeeded,
    string Explanation)
{
    /// <summary>
    /// The part of the distance from aim to limit that the reading's 95 % expanded uncertainty may take for <see cref="ReadsNeeded"/>:
    /// one third (common practice, no source).
    /// </summary>
    public const double LargestPart = 1.0 / 3;
}
