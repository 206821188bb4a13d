namespace Acquire.Analysis.Tests.Statistics;

internal static class RandomNumbers
{
    /// <summary>A standard normal number (Box and Muller).</summary>
    public static double Normal(this Random random) =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
