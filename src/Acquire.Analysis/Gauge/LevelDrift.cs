using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Gauge;

/// <summary>How far the level of a patch moved from one test to the next, in density.</summary>
/// <param name="Patch">Key of the patch.</param>
/// <param name="Channel">The channel.</param>
/// <param name="Drift">Level now minus level before.</param>
/// <param name="StandardUncertainty">Of the drift.</param>
/// <param name="DegreesOfFreedom">Of the uncertainty (Welch–Satterthwaite).</param>
/// <param name="T">Drift over its uncertainty.</param>
/// <param name="P">Chance of a t this far from 0 without a drift.</param>
public sealed record LevelDrift(
    string Patch, Channel Channel, double Drift, double StandardUncertainty, int DegreesOfFreedom, double T, double P)
{
    /// <summary>Whether it is more than chance explains at 5 %.</summary>
    public bool IsSignificant => P < 0.05;

    internal static LevelDrift Of(Scatter scatterBefore, PatchRepeatability before, Scatter scatterNow, PatchRepeatability now)
    {
        var (a, b) = (before.LevelUncertainty * before.LevelUncertainty, now.LevelUncertainty * now.LevelUncertainty);
        var uncertainty = Math.Sqrt(a + b);
        var freedom = (a + b) * (a + b) / ((a * a / scatterBefore.DegreesOfFreedom) + (b * b / scatterNow.DegreesOfFreedom));
        var whole = Math.Max(1, (int)(freedom + 1e-9));
        var drift = now.Level - before.Level;
        return new LevelDrift(
            now.Patch, now.Channel, drift, uncertainty, whole, drift / uncertainty, Quantiles.StudentTail(drift / uncertainty, whole));
    }
}
