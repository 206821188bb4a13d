using Acquire.Analysis.Gauge;

namespace Acquire.Bench.Trust;

/// <summary>What the user settled of <see cref="Assumptions"/>; what is null is as usual.</summary>
/// <param name="Repeatability">Standard deviation of one re-placed read at density 0.</param>
/// <param name="RepeatabilityFreedom">How many degrees of freedom that is worth.</param>
/// <param name="Zero">Half of the width within which a zero is set, in density; 0 for a zero that never moves.</param>
public sealed record AssumedSettings(double? Repeatability = null, double? RepeatabilityFreedom = null, double? Zero = null)
{
    /// <summary>Bounds beyond which a value is a slip of the pen: no densitometer is so good or so bad (judgement, no source).</summary>
    public const double LeastRepeatability = 0.0005, LargestRepeatability = 0.1, LargestFreedom = 100, LargestZero = 0.1;

    /// <exception cref="BenchException">A value is beyond its bounds.</exception>
    public Assumptions ToAssumptions()
    {
        var usual = Assumptions.Default;
        return usual with
        {
            Repeatability = Within(
                "assumed repeatability", Repeatability ?? usual.Repeatability, LeastRepeatability, LargestRepeatability, "0.010"),
            RepeatabilityFreedom = Within(
                "number of degrees of freedom of it", RepeatabilityFreedom ?? usual.RepeatabilityFreedom, 1, LargestFreedom, "5"),
            Zero = Within("assumed zero", Zero ?? usual.Zero, 0, LargestZero, "0.0125"),
        };
    }

    private static double Within(string what, double value, double least, double largest, string example) =>
        value >= least && value <= largest ? value : throw new BenchException(string.Create(
            CultureInfo.InvariantCulture, $"{value} is no {what}; expected {least} to {largest}, such as {example}."));
}
