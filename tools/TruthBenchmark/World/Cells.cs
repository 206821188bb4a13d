namespace TruthBenchmark.World;

/// <summary>Densities, or differences of densities, of the fifteen cells of a strip: five patches in red, green and blue.</summary>
internal sealed class Cells
{
    public const int DMin = 0;
    public const int Low = 1;
    public const int High = 2;
    public const int DMax = 3;
    public const int Yellow = 4;
    public const int Patches = 5;
    public const int Colours = 3;
    public const int Blue = 2;

    private readonly double[] _values;

    private Cells(double[] values) => _values = values;

    public static Cells None { get; } = Of((_, _) => 0);

    public double this[int patch, int colour] => _values[(patch * Colours) + colour];

    public static Cells Of(Func<int, int, double> value) =>
        new([.. Enumerable.Range(0, Patches * Colours).Select(i => value(i / Colours, i % Colours))]);

    /// <summary>Cells by patch, each with its three colours.</summary>
    public static Cells Rows(params double[][] patches) => Of((p, c) => patches[p][c]);

    public Cells With(int patch, int colour, double value) => Of((p, c) => p == patch && c == colour ? value : this[p, c]);

    public static Cells operator +(Cells left, Cells right) => Of((p, c) => left[p, c] + right[p, c]);

    public static Cells operator -(Cells left, Cells right) => Of((p, c) => left[p, c] - right[p, c]);

    public static Cells operator *(double factor, Cells cells) => Of((p, c) => factor * cells[p, c]);
}

/// <summary>What the trade reckons of the true deviations of a strip.</summary>
internal static class Measures
{
    /// <summary>The parameter by its key on the process sheet and its colour; the spread has none.</summary>
    public static double Of(Cells deviation, string key, int? colour) => (key, colour) switch
    {
        ("dmin", { } c) => deviation[Cells.DMin, c],
        ("ld", { } c) => deviation[Cells.Low, c],
        ("contrast", { } c) => Contrast(deviation, c),
        ("silver", _) => deviation[Cells.DMax, Cells.Blue] - deviation[Cells.Yellow, Cells.Blue],
        ("spread", _) => Spread(deviation),
        _ => throw new ArgumentException($"The world knows no parameter '{key}'.", nameof(key)),
    };

    public static double Contrast(Cells deviation, int colour) => deviation[Cells.High, colour] - deviation[Cells.Low, colour];

    /// <summary>
    /// How many action limits the worst parameter is off. Limits as the shipped sheet has them: D-min +0.03, LD ±0.06, HD − LD ±0.07,
    /// D-max B − yellow B +0.10 (common practice, from memory).
    /// </summary>
    public static double ActionLimits(Cells deviation) => Enumerable.Range(0, Cells.Colours)
        .SelectMany(c => new[]
        {
            deviation[Cells.DMin, c] / 0.03, Math.Abs(deviation[Cells.Low, c]) / 0.06, Math.Abs(Contrast(deviation, c)) / 0.07,
        })
        .Append(Of(deviation, "silver", null) / 0.10)
        .Max();

    private static double Spread(Cells deviation)
    {
        var contrasts = Enumerable.Range(0, Cells.Colours).Select(c => Contrast(deviation, c)).ToList();
        return contrasts.Max() - contrasts.Min();
    }
}
