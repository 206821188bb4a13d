namespace Acquire.Analysis.Control;

/// <summary>A stretch of a series with the memory taken out: each value less its share of the one before, so that what is left of the
/// scatter is independent. Sums over any course of movement cost the same wherever it begins.</summary>
internal sealed class Whitened
{
    private readonly int _count;
    private readonly double _centre;
    private readonly double _rate;

    // For an endless course of one unit a strip that begins at i: its products with the values and with the level.
    private readonly double[] _values;
    private readonly double[] _levels;

    /// <param name="values">The stretch, one value at least.</param>
    /// <param name="centre">A number near the values, so that their squares keep their digits.</param>
    /// <param name="memory">Correlation of one value with the next, 0 up to 1.</param>
    public Whitened(double[] values, double centre, double memory)
    {
        var n = values.Length;
        (_count, _centre, _rate) = (n, centre, 1 - memory);
        var first = Math.Sqrt(1 - (memory * memory));
        var (start, squares) = (first * (values[0] - centre), 0.0);
        Precision = (first * first) + ((n - 1) * _rate * _rate);
        Product = first * start;
        squares = start * start;
        (_values, _levels) = (new double[n + 2], new double[n + 2]);
        var (sum, slope, levels, levelSlope) = (0.0, 0.0, 0.0, 0.0);
        for (var i = n - 1; i >= 1; i--)
        {
            var value = values[i] - centre - (memory * (values[i - 1] - centre));
            squares += value * value;
            Product += _rate * value;
            (slope, levelSlope) = (slope + sum, levelSlope + levels);
            (sum, levels) = (sum + value, levels + _rate);
            (_values[i], _levels[i]) = (sum + (_rate * slope), levels + (_rate * levelSlope));
        }

        Squares = Math.Max(0, squares - (Product * Product / Precision));
        LogFactor = Math.Log(first) - (0.5 * Math.Log(Precision));
    }

    /// <summary>Squares about the level.</summary>
    public double Squares { get; }

    /// <summary>Log of what the memory and the unknown level make of the likelihood, beside the squares.</summary>
    public double LogFactor { get; }

    private double Precision { get; }

    private double Product { get; }

    /// <summary>How far an even course has gone at a strip, in strips.</summary>
    public static double Share(int at, int began, int length) => Math.Clamp(at - began + 1, 0, length);

    /// <summary>Squares of a course about its level, and its product with the values.</summary>
    /// <param name="began">The first strip that shows it, 1 at least.</param>
    /// <param name="length">Strips that it takes.</param>
    /// <param name="unit">Strips in which it moves by one.</param>
    public (double Squares, double Product) Course(int began, int length, double unit)
    {
        var end = End(began, length);
        var level = (_levels[began] - _levels[end]) / unit;
        var value = (_values[began] - _values[end]) / unit;

        // A course that ends is an endless one less another that begins where it ends.
        var squares = (Both(began, began) - (2 * Both(began, end)) + Both(end, end)) / (unit * unit);
        return (squares - (level * level / Precision), value - (level * Product / Precision));
    }

    /// <summary>Level before a course, and how far it goes from strip to strip while it lasts.</summary>
    public (double Before, double Rate) Size(int began, int length)
    {
        var (squares, product) = Course(began, length, 1);
        var rate = product / squares;
        return (_centre + ((Product - (rate * (_levels[began] - _levels[End(began, length)]))) / Precision), rate);
    }

    private int End(int began, int length) => length >= _count - began ? _count : began + length;

    /// <summary>Product of two endless courses, the second beginning no earlier.</summary>
    private double Both(int first, int second)
    {
        double n = _count - second, lag = second - first;
        var (sum, squares) = (n * (n - 1) / 2, (n - 1) * n * ((2 * n) - 1) / 6);
        return ((1 + (_rate * lag)) * (n + (_rate * sum))) + (_rate * sum) + (_rate * _rate * squares);
    }
}
