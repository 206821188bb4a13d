namespace Acquire.Analysis.Control;

/// <summary>Exponentially weighted moving average, which tells small lasting shifts sooner than
/// single points do (NIST/SEMATECH e-Handbook 6.3.2.4).</summary>
/// <param name="Target">Where it starts, and the centre of its limits.</param>
/// <param name="Sigma">Standard deviation of one value.</param>
/// <param name="Lambda">Weight of the newest value, above 0 and up to 1.</param>
/// <param name="Width">Half-width of the limits in standard deviations of the average.</param>
public sealed record Ewma(double Target, double Sigma, double Lambda = 0.2, double Width = 3)
{
    /// <summary>The average before any value.</summary>
    public EwmaPoint Start => new(0, Target, Target, Target);

    /// <summary>Half-width of the limits after many values.</summary>
    public double FinalHalfWidth => Width * Sigma * Math.Sqrt(Lambda / (2 - Lambda));

    /// <summary>Takes one more value.</summary>
    public EwmaPoint Next(EwmaPoint previous, double value)
    {
        var count = previous.Count + 1;
        // The average of few values scatters less than that of many; with the final width, an early shift would be told late.
        var half = FinalHalfWidth * Math.Sqrt(1 - Math.Pow(1 - Lambda, 2.0 * count));
        return new EwmaPoint(count, (Lambda * value) + ((1 - Lambda) * previous.Value), Target - half, Target + half);
    }

    /// <summary>The average after each value.</summary>
    public ImmutableArray<EwmaPoint> Of(IEnumerable<double> values)
    {
        var points = ImmutableArray.CreateBuilder<EwmaPoint>();
        var point = Start;
        foreach (var value in values)
        {
            points.Add(point = Next(point, value));
        }

        return points.ToImmutable();
    }
}

/// <summary>The average after some values.</summary>
/// <param name="Count">How many values went in.</param>
/// <param name="Value">The average, in the unit of the values.</param>
/// <param name="Lower">Lower limit at this count; limits open out to their final width.</param>
/// <param name="Upper">Upper limit at this count.</param>
public sealed record EwmaPoint(int Count, double Value, double Lower, double Upper)
{
    /// <summary>The side on which it is past a limit.</summary>
    public Side Signal => Value > Upper ? Side.High : Value < Lower ? Side.Low : Side.Neither;
}

/// <summary>Tabular cumulative sums on both sides of a target (NIST/SEMATECH e-Handbook 6.3.2.3). All in the unit of the values.</summary>
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
        var high = Math.Max(0, previous.High + (value - Target) - Allowance);
        var low = Math.Max(0, previous.Low + (Target - value) - Allowance);
        return new CusumPoint(
            // A sum that fell back to 0 has forgotten what was before, so the shift it tells of began after that.
            previous.Count + 1, high, low, high > 0 ? previous.HighFor + 1 : 0, low > 0 ? previous.LowFor + 1 : 0,
            high > Decision ? Side.High : low > Decision ? Side.Low : Side.Neither);
    }

    /// <summary>The sums after each value.</summary>
    public ImmutableArray<CusumPoint> Of(IEnumerable<double> values)
    {
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

    /// <summary>Index, from 0, of the value at which the shift that the alarm
    /// tells of seems to have begun; null without an alarm.</summary>
    public int? Began => Signal switch
    {
        Side.High => Count - HighFor,
        Side.Low => Count - LowFor,
        _ => null,
    };
}
