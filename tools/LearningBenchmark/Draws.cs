using LearningBenchmark.Formats;

namespace LearningBenchmark;

/// <summary>Draws densities.</summary>
internal static class Draws
{
    /// <summary>The densities of a reading in the capture: a light, a middle and a dark patch.</summary>
    public static Dictionary<Channel, decimal?> Values(InventedFormat format, Random random, int patch)
    {
        var low = patch switch { 0 => 0.05m, 1 => 0.3m, _ => 1.1m };
        var values =
            Channels.All.ToDictionary(c => c, c => (decimal?)Round(low + ((decimal)random.NextDouble() * (0.4m + (0.4m * patch))), format));
        if (patch == 0 && random.Next(4) == 0)
        {
            values[Channel.Red] = Round(-0.02m, format);
        }

        if (format.NeverNegative)
        {
            values[Channel.Red] = Math.Abs(values[Channel.Red]!.Value);
        }

        if (format.Flaw == Flaw.EqualChannels)
        {
            values[format.Shown[1]] = values[format.Shown[0]];
        }

        if (format.Flaw == Flaw.EqualVisual)
        {
            values[Channel.Visual] = values[Channel.Green];
        }

        return values;
    }

    /// <summary>Densities that the capture did not show: negative, zero, dark, beyond the range.</summary>
    public static Dictionary<Channel, decimal?> Further(InventedFormat format, Random random, int index)
    {
        var (low, spread) = (index % 4) switch { 0 => (-0.05m, 0.1m), 1 => (0m, 0.3m), 2 => (0.5m, 1.5m), _ => (1m, 2.9m) };
        var values = Channels.All.ToDictionary(c => c, c => (decimal?)Round(low + ((decimal)random.NextDouble() * spread), format));
        values = format.NeverNegative ? values.ToDictionary(v => v.Key, v => (decimal?)Math.Abs(v.Value!.Value)) : values;
        return index == FurtherBeyond && format.OverRange.Length > 0
            ? Beyond(values, format.Shown[random.Next(format.Shown.Length)])
            : values;
    }

    public static Dictionary<Channel, decimal?> Beyond(Dictionary<Channel, decimal?> values, Channel channel) =>
        values.ToDictionary(v => v.Key, v => v.Key == channel ? null : v.Value);

    private const int FurtherBeyond = 6;

    private static decimal Round(decimal value, InventedFormat format) => Math.Round(value, format.Decimals) + 0m;
}
