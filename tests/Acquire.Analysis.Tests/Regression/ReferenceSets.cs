using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Tests.Regression;

/// <summary>Data sets of the NIST Statistical Reference Datasets, linear regression (public domain).</summary>
internal static class ReferenceSets
{
    /// <summary>Employment, 1947 to 1962: y, then six columns that nearly make each other up.</summary>
    public static double[][] Longley { get; } =
    [
        [60323, 83.0, 234289, 2356, 1590, 107608, 1947],
        [61122, 88.5, 259426, 2325, 1456, 108632, 1948],
        [60171, 88.2, 258054, 3682, 1616, 109773, 1949],
        [61187, 89.5, 284599, 3351, 1650, 110929, 1950],
        [63221, 96.2, 328975, 2099, 3099, 112075, 1951],
        [63639, 98.1, 346999, 1932, 3594, 113270, 1952],
        [64989, 99.0, 365385, 1870, 3547, 115094, 1953],
        [63761, 100.0, 363112, 3578, 3350, 116219, 1954],
        [66019, 101.2, 397469, 2904, 3048, 117388, 1955],
        [67857, 104.6, 419180, 2822, 2857, 118734, 1956],
        [68169, 108.4, 442769, 2936, 2798, 120445, 1957],
        [66513, 110.8, 444546, 4681, 2637, 121950, 1958],
        [68655, 112.6, 482704, 3813, 2552, 123366, 1959],
        [69564, 114.2, 502601, 3931, 2514, 125368, 1960],
        [69331, 115.7, 518173, 4806, 2572, 127852, 1961],
        [70551, 116.9, 554894, 4007, 2827, 130081, 1962],
    ];

    public static double[] Wampler1 { get; } =
    [
        1, 6,
        63, 364, 1365, 3906, 9331, 19608, 37449, 66430, 111111, 177156, 271453, 402234, 579195, 813616, 1118481, 1508598, 2000719, 2613660,
        3368421,
    ];

    public static ImmutableArray<Term> Columns(double[][] rows) =>
        [.. Enumerable.Range(1, rows[0].Length - 1).Select(j => new Term($"x{j}", [.. rows.Select(r => r[j])]))];
}
