using Acquire.Analysis.Gauge;

namespace Acquire.Analysis.Tests.Gauge;

/// <summary>Readings published elsewhere, in the shape of a repeatability test.</summary>
internal static class PublishedReads
{
    /// <summary>
    /// Glucose in serum, eight laboratories, five materials (ASTM E691, table 1; NIST Dataplot GLUCOSE2.DAT), as shipped.
    /// </summary>
    public static ImmutableArray<(int Lab, decimal A, decimal B, decimal C, decimal D, decimal E)> Glucose { get; } =
    [
        (1, 41.03m, 78.28m, 132.66m, 193.71m, 292.78m),
        (1, 41.45m, 78.18m, 133.83m, 193.59m, 294.09m),
        (1, 41.37m, 78.49m, 133.10m, 193.65m, 292.89m),
        (2, 41.17m, 77.78m, 132.92m, 190.88m, 292.27m),
        (2, 42.00m, 80.38m, 136.90m, 200.14m, 309.40m),
        (2, 41.15m, 79.54m, 136.40m, 194.30m, 295.08m),
        (3, 41.01m, 79.18m, 132.61m, 192.71m, 295.53m),
        (3, 40.68m, 79.72m, 135.80m, 193.28m, 290.14m),
        (3, 42.66m, 80.81m, 135.36m, 190.28m, 292.34m),
        (4, 39.37m, 84.08m, 138.50m, 195.85m, 295.19m),
        (4, 42.37m, 78.60m, 148.30m, 196.36m, 295.44m),
        (4, 42.63m, 81.92m, 135.69m, 199.43m, 296.83m),
        (5, 41.88m, 78.16m, 131.90m, 192.59m, 293.93m),
        (5, 41.19m, 79.58m, 134.14m, 191.44m, 292.48m),
        (5, 41.32m, 78.33m, 133.76m, 195.12m, 294.28m),
        (6, 43.28m, 78.66m, 137.21m, 195.34m, 297.74m),
        (6, 40.50m, 79.27m, 135.14m, 198.26m, 296.80m),
        (6, 42.28m, 81.75m, 137.50m, 198.13m, 290.33m),
        (7, 41.08m, 79.76m, 130.97m, 194.66m, 287.29m),
        (7, 41.27m, 81.45m, 131.59m, 191.99m, 293.76m),
        (7, 39.02m, 77.35m, 134.92m, 187.13m, 289.36m),
        (8, 43.36m, 80.44m, 135.46m, 197.56m, 298.46m),
        (8, 42.65m, 80.80m, 135.14m, 195.99m, 295.28m),
        (8, 41.72m, 79.80m, 133.63m, 200.82m, 296.12m),
    ];

    /// <summary>Gear diameters in ten batches of ten (NIST GEAR.DAT).</summary>
    public static ImmutableArray<decimal> Gears { get; } =
    [
        1.006m, 0.996m, 0.998m, 1.000m, 0.992m, 0.993m, 1.002m, 0.999m, 0.994m, 1.000m,
        0.998m, 1.006m, 1.000m, 1.002m, 0.997m, 0.998m, 0.996m, 1.000m, 1.006m, 0.988m,
        0.991m, 0.987m, 0.997m, 0.999m, 0.995m, 0.994m, 1.000m, 0.999m, 0.996m, 0.996m,
        1.005m, 1.002m, 0.994m, 1.000m, 0.995m, 0.994m, 0.998m, 0.996m, 1.002m, 0.996m,
        0.998m, 0.998m, 0.982m, 0.990m, 1.002m, 0.984m, 0.996m, 0.993m, 0.980m, 0.996m,
        1.009m, 1.013m, 1.009m, 0.997m, 0.988m, 1.002m, 0.995m, 0.998m, 0.981m, 0.996m,
        0.990m, 1.004m, 0.996m, 1.001m, 0.998m, 1.000m, 1.018m, 1.010m, 0.996m, 1.002m,
        0.998m, 1.000m, 1.006m, 1.000m, 1.002m, 0.996m, 0.998m, 0.996m, 1.002m, 1.006m,
        1.002m, 0.998m, 0.996m, 0.995m, 0.996m, 1.004m, 1.004m, 0.998m, 0.999m, 0.991m,
        0.991m, 0.995m, 0.984m, 0.994m, 0.997m, 0.997m, 0.991m, 0.998m, 1.004m, 0.997m,
    ];

    /// <summary>One patch, one channel.</summary>
    public static RepeatabilityData Reds(string patch, params IEnumerable<decimal> values) =>
        new([.. values.Select((v, i) => Red(patch, i + 1, v))]);

    public static GaugeRead Red(string patch, int number, decimal value, int? placement = null) =>
        new(patch, number, ImmutableDictionary<Channel, decimal>.Empty.Add(Channel.Red, value), placement);

    /// <summary>A plaque certified in red, its patches numbered along it.</summary>
    /// <param name="densities">The certified densities, rising.</param>
    /// <param name="uncertainty">Expanded uncertainty (k = 2) of each.</param>
    /// <param name="tolerance">How far a reading may lie from it.</param>
    /// <param name="first">Number of the first patch.</param>
    public static Plaque Plaque(IEnumerable<decimal> densities, double uncertainty, double tolerance, int first = 0) => new(
        "p",
        [
            .. densities.Select((d, i) => new PlaquePatch(
                new Patch($"{i + first}", $"{i + first}"), ChannelDensities.Of([new(Channel.Red, new Density(d))]), uncertainty)),
        ],
        tolerance,
        30);
}
