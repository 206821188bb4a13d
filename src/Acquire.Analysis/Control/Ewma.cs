namespace Acquire.Analysis.Control;

/// <summary>
/// Exponentially weighted moving average, which tells small lasting shifts sooner than single points do (NIST/SEMATECH e-Handbook
/// 6.3.2.4).
/// </summary>
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
        ArgumentNullException.ThrowIfNull(previous);
        var count = previous.Count + 1;
        var half = FinalHalfWidth * Math.Sqrt(1 - Math.Pow(1 - Lambda, 2.0 * count));
        return new EwmaPoint(count, (Lambda * value) + ((1 - Lambda) * previous.Value), Target - half, Target + half);
    }

    /// <summary>The average after each value.</summary>
    public ImmutableArray<EwmaPoint> Of(IEnumerable<double> values)
    {
        ArgumentNullException.ThrowIfNull(values);
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
/// <param name="Value">The average.</param>
/// <param name="Lower">Lower limit at this count; limits open out to their final width.</param>
/// <param name="Upper">Upper limit at this count.</param>
public sealed record EwmaPoint(int Count, double Value, double Lower, double Upper)
{
    /// <summary>The side on which it is past a limit.</summary>
    public Side Signal => Value > Upper ? Side.High : Value < Lower ? Side.Low : Side.Neither;
}
