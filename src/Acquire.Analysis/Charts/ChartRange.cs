namespace Acquire.Analysis.Charts;

/// <summary>From where to where an axis goes.</summary>
/// <param name="Low">Its low end.</param>
/// <param name="High">Its high end, above the low one.</param>
public readonly record struct ChartRange(double Low, double High)
{
    /// <summary>How far it reaches; above 0.</summary>
    public double Width => High - Low;

    /// <summary>Where a value lies, 0 at the low end and 1 at the high one.</summary>
    public double Share(double value) => (value - Low) / Width;

    /// <summary>Whether a value lies on it.</summary>
    public bool Holds(double value) => value >= Low && value <= High;

    /// <summary>The value, or the end of the range that it lies beyond.</summary>
    public double Clamp(double value) => Math.Clamp(value, Low, High);

    /// <summary>The range of some values with room at both ends; a least width is kept about their middle.</summary>
    /// <param name="values">Finite values; without any the range lies about 0.</param>
    /// <param name="least">The least width, above 0.</param>
    /// <param name="room">Share of the width that is added at each end.</param>
    public static ChartRange About(IEnumerable<double> values, double least, double room)
    {
        var (low, high) = (double.PositiveInfinity, double.NegativeInfinity);
        foreach (var value in values)
        {
            (low, high) = (Math.Min(low, value), Math.Max(high, value));
        }

        if (low > high)
        {
            (low, high) = (0, 0);
        }

        var middle = (low + high) / 2;
        var half = Math.Max(high - low, least) * (0.5 + room);
        return new ChartRange(middle - half, middle + half);
    }
}
