namespace Acquire.Bench.Trust;

/// <summary>Whether a calibration check is in force.</summary>
/// <param name="InForce">The check; null when none is in force.</param>
/// <param name="Lacking">Why none is, in words; null when one is.</param>
public sealed record CheckStanding(CalibrationCheck? InForce, string? Lacking)
{
    /// <summary>Judges the last check.</summary>
    public static CheckStanding Of(CalibrationCheck? last, DateTimeOffset now, string profile) => last switch
    {
        null => new CheckStanding(null, $"no calibration check was made with profile {profile} yet"),
        { Passed: false } => new CheckStanding(null, $"the last calibration check, of {Day(last.Provenance.At)}, failed"),
        _ when now >= last.DueAt => new CheckStanding(
            null, $"the last calibration check is of {Day(last.Provenance.At)}, and the next was due on {Day(last.DueAt)}"),
        _ => new CheckStanding(last, null),
    };

    private static string Day(DateTimeOffset at) => at.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
}
