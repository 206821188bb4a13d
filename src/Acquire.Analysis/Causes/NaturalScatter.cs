namespace Acquire.Analysis.Causes;

/// <summary>What strips of a process in order scatter by from run to run, beside their reading.</summary>
/// <param name="Run">
/// Standard deviation of what moves all colours together, at LD; denser patches move half as much again, D-min a quarter as much. Small tanks by hand scatter 0.01 to
/// 0.03 (common practice, no source).
/// </param>
/// <param name="Own">Standard deviation of what each patch and channel does by itself.</param>
public sealed record NaturalScatter(double Run = 0.012, double Own = 0.004)
{
    /// <summary>How much of <see cref="Run"/> a patch takes part in.</summary>
    public static double ShareOf(string patchKey)
    {
        ArgumentNullException.ThrowIfNull(patchKey);
        return patchKey.ToLowerInvariant() switch
        {
            "dmin" => 0.25,
            "hd" or "dmax" or "yellow" => 1.5,
            _ => 1,
        };
    }
}
