namespace Acquire.Instruments.Simulation;

/// <summary>Chance out of a seed and a stream number: the same pair gives the same draws everywhere, and
/// the streams of one seed do not depend on each other.</summary>
/// <remarks>Box and Muller, Annals of Mathematical Statistics 29 (1958) 610; the seed
/// is mixed as in SplitMix64 (Steele, Lea, Flood 2014).</remarks>
public sealed class SeededChance(int seed, long stream)
{
    private readonly Random _uniform = new(Mix(seed, stream));

    /// <summary>The next number of the normal distribution of mean 0 and this standard deviation.</summary>
    public double Next(double standardDeviation)
    {
        var radius = Math.Sqrt(-2 * Math.Log(1 - _uniform.NextDouble()));
        return standardDeviation * radius * Math.Cos(2 * Math.PI * _uniform.NextDouble());
    }

    /// <summary>Whether something of this probability, 0 … 1, happens now.</summary>
    public bool Happens(double probability) => _uniform.NextDouble() < probability;

    /// <summary>A whole number from 0 up to, but not including, the bound.</summary>
    public int Below(int bound) => _uniform.Next(bound);

    private static int Mix(int seed, long stream)
    {
        unchecked
        {
            var z = ((ulong)(uint)seed << 32) + ((ulong)stream * 0x9E3779B97F4A7C15UL) + 0x9E3779B97F4A7C15UL;
            z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9UL;
            z = (z ^ (z >> 27)) * 0x94D049BB133111EBUL;
            return (int)(z ^ (z >> 31));
        }
    }
}
