namespace PlausibilityBenchmark;

/// <summary>Chance.</summary>
internal static class Draw
{
    public static double Between(Random random, double low, double high) => low + ((high - low) * random.NextDouble());

    public static int Sign(Random random) => random.Next(2) == 0 ? 1 : -1;
}
