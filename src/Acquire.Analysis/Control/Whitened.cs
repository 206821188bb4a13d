namespace Acquire.Analysis.Control;

/// <summary>
/// A stretch of a series with a memory taken out, and every course of a movement held against it. Any course costs the same.
/// </summary>
internal sealed class Whitened
{
    private readonly StripMemory _memory;
    private readonly int _count;
    private readonly double _centre;
    private readonly double _precision;
    private readonly double _product;

    // Products of the endless courses with the values and with the level.
    private readonly double[] _values;
    private readonly double[] _levels;

    /// <param name="values">The stretch, one value at least.</param>
    /// <param name="centre">A number near the values, so that their squares keep their digits.</param>
    public Whitened(double[] values, double centre, StripMemory memory)
    {
        (_memory, _count, _centre) = (memory, values.Length, centre);
        var (white, level) = (new double[_count], new double[_count]);
        for (var i = 0; i < _count; i++)
        {
            (white[i], level[i]) = (values[i] - centre, 1);
        }

        (white, level) = (memory.Whiten(white), memory.Whiten(level));
        (_values, _levels) = (memory.Courses(white), memory.Courses(level));
        var squares = 0.0;
        for (var i = 0; i < _count; i++)
        {
            squares += white[i] * white[i];
            _product += white[i] * level[i];
            _precision += level[i] * level[i];
        }

        Squares = Math.Max(0, squares - (_product * _product / _precision));
        LogFactor = memory.Log(_count) - (0.5 * Math.Log(_precision));
    }

    /// <summary>Squares about the level.</summary>
    public double Squares { get; }

    /// <summary>Log of what the memory and the unknown level make of the likelihood, beside the squares.</summary>
    public double LogFactor { get; }

    /// <summary>How far an even course has gone at a strip, in strips.</summary>
    public static double Gone(int at, int began, int length) => Math.Clamp(at - began + 1, 0, length);

    /// <summary>Squares of a course about its level, and its product with the values.</summary>
    /// <param name="began">The first strip that shows it.</param>
    /// <param name="length">Strips that it takes.</param>
    /// <param name="unit">Strips in which it moves by one.</param>
    public (double Squares, double Product) Course(int began, int length, double unit)
    {
        var end = End(began, length);
        var level = (_levels[began] - _levels[end]) / unit;
        var value = (_values[began] - _values[end]) / unit;

        // A course that ends is an endless one less another that begins where it ends.
        var squares = (_memory.Product(0, _count - began) + _memory.Product(0, _count - end)
            - (2 * (end < _count ? _memory.Product(length, _count - end) : 0))) / (unit * unit);
        return (Math.Max(squares - (level * level / _precision), 1e-12), value - (level * _product / _precision));
    }

    /// <summary>Level before a course, and how far it goes from strip to strip while it lasts.</summary>
    public (double Before, double Rate) Size(int began, int length)
    {
        var (squares, product) = Course(began, length, 1);
        var rate = product / squares;
        return (_centre + ((_product - (rate * (_levels[began] - _levels[End(began, length)]))) / _precision), rate);
    }

    private int End(int began, int length) => length >= _count - began ? _count : began + length;
}
