namespace Acquire.Analysis.Control;

/// <summary>
/// Tabular cumulative sums on both sides of a target (NIST/SEMATECH e-Handbook 6.3.2.3). All in the unit of the values.
/// </summary>
/// <param name="Target">The mean to hold.</param>
/// <param name="Allowance">k: half of the shift to be found, usually half a standard deviation.</param>
/// <param name="Decision">h: the sum that is an alarm, usually 4 or 5 standard deviations.</param>
public sealed record Cusum(double Target, double Allowance, double Decision)
{
    /// <summary>The usual design: k = 0.5 and h = 5 standard deviations (run length in control 465; Montgomery, from Lucas 1976).</summary>
    public static Cusum Usual(double target, double sigma) => new(target, sigma / 2, 5 * sigma);

    /// <summary>Takes one more value.</summary>
    public CusumPoint Next(CusumPoint previous, double value)
    {
        ArgumentNullException.ThrowIfNull(previous);
        var high = Math.Max(0, previous.High + (value - Target) - Allowance);
        var low = Math.Max(0, previous.Low + (Target - value) - Allowance);
        return new CusumPoint(
            previous.Count + 1,
            high,
            low,
            high > 0 ? previous.HighFor + 1 : 0,
            low > 0 ? previous.LowFor + 1 : 0,
            high > Decision ? Side.High : low > Decision ? Side.Low : Side.Neither);
    }

    /// <summary>The sums after each value.</summary>
    public ImmutableArray<CusumPoint> Of(IEnumerable<double> values)
    {
        ArgumentNullException.ThrowIfNull(values);
        var points = ImmutableArray.CreateBuilder<CusumPoint>();
        var point = CusumPoint.Start;
        foreach (var value in values)
        {
            points.Add(point = Next(point, value));
        }

        return points.ToImmutable();
    }
}

/// <summary>The sums after some values.</summary>
/// <param name="Count">How many values went in.</param>
/// <param name="High">Sum of what exceeds the target, never below 0.</param>
/// <param name="Low">Sum of what falls short of it, never below 0.</param>
/// <param name="HighFor">For how many values the high sum has been above 0: a shift began about then.</param>
/// <param name="LowFor">The same of the low sum.</param>
/// <param name="Signal">The side of the alarm, if any.</param>
public sealed record CusumPoint(int Count, double High, double Low, int HighFor, int LowFor, Side Signal)
{
    /// <summary>Before any value.</summary>
    public static CusumPoint Start { get; } = new(0, 0, 0, 0, 0, Side.Neither);

    /// <summary>Index, from 0, of the value at which the shift that the alarm tells of seems to have begun; null without an alarm.</summary>
    public int? Began => Signal switch
    {
        Side.High => Count - HighFor,
        Side.Low => Count - LowFor,
        _ => null,
    };
}
