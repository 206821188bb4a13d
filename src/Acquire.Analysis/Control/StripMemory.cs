namespace Acquire.Analysis.Control;

/// <summary>A memory that a process may have: part of what moves one strip is still there in the next. Readings have no memory, so only a
/// share of the scatter fades; the rest is new with every strip (an AR(1) process seen through white noise).</summary>
internal sealed class StripMemory
{
    // Twice the window is the longest stretch that is ever looked into.
    private const int Longest = 2 * CloserLook.Window;

    private readonly double[] _scale = new double[Longest];
    private readonly double[] _gain = new double[Longest];
    private readonly double[] _logs = new double[Longest + 1];
    private readonly Dictionary<int, double[]> _products;

    private StripMemory(double fading, double share)
    {
        (Fading, Share) = (fading, share);
        var fresh = share * (1 - (fading * fading));
        Moving = 0;
        var innovation = 1.0;
        if (fading > 0 && share < 1)
        {
            // The same process written as ARMA(1,1): its moving part follows from the autocovariances at lags 0 and 1.
            var k = fading * (1 - share) / (fresh + ((1 - share) * (1 + (fading * fading))));
            Moving = (1 - Math.Sqrt(1 - (4 * k * k))) / (2 * k);
            innovation = fading * (1 - share) / Moving;
        }
        else if (fading > 0)
        {
            innovation = fresh;
        }

        Innovation = innovation;
        var state = share;
        for (var i = 0; i < Longest; i++)
        {
            // The Kalman filter's variances, which depend on no value.
            var variance = state + 1 - share;
            _gain[i] = fading * state / variance;
            _scale[i] = Math.Sqrt(innovation / variance);
            _logs[i + 1] = _logs[i] + Math.Log(_scale[i]);
            state = (fading * fading * state * (1 - share) / variance) + fresh;
        }

        var course = new double[Longest];
        for (var i = 0; i < Longest; i++)
        {
            course[i] = i + 1 - (fading * i) + (i > 0 ? Moving * course[i - 1] : 0);
        }

        _products = CloserLook.Courses.Select(c => c.Length).Where(l => l < Longest).Append(0).ToDictionary(lag => lag, lag =>
        {
            var sums = new double[Longest - lag + 1];
            for (var i = 0; i + lag < Longest; i++)
            {
                sums[i + 1] = sums[i] + (course[i] * course[i + lag]);
            }

            return sums;
        });
    }

    /// <summary>The memories that are weighed, all alike beforehand. A strip that contradicts the one before is taken for none, which is
    /// the careful side. Judgement, no source.</summary>
    public static ImmutableArray<StripMemory> All { get; } =
        [new(0, 1), .. new[] { 0.4, 0.6, 0.8, 0.9 }.SelectMany(f => new[] { 0.6, 1 }.Select(s => new StripMemory(f, s)))];

    /// <summary>Correlation of the fading share with its next strip's.</summary>
    public double Fading { get; }

    /// <summary>Share of the variance that fades and is not new with every strip.</summary>
    public double Share { get; }

    /// <summary>Coefficient of the moving part.</summary>
    public double Moving { get; }

    /// <summary>What a strip cannot be foretold by, as a share of the variance.</summary>
    public double Innovation { get; }

    /// <summary>Log of the determinant that goes with so many whitened values.</summary>
    public double Log(int count) => _logs[count];

    /// <summary>Takes the memory out: what is left is independent, and alike in scatter.</summary>
    public double[] Whiten(ReadOnlySpan<double> values)
    {
        var (white, expected) = (new double[values.Length], 0.0);
        for (var i = 0; i < values.Length; i++)
        {
            var off = values[i] - expected;
            white[i] = off * _scale[i];
            expected = (Fading * expected) + (_gain[i] * off);
        }

        return white;
    }

    /// <summary>For every strip: the product of whitened values with an endless course of one unit a strip that begins there.</summary>
    /// <remarks>The course is whitened by the filter that the memory settles to, which from the third strip on hardly differs; then all
    /// places cost one pass backwards.</remarks>
    public double[] Courses(double[] white)
    {
        var products = new double[white.Length + 1];
        var (filtered, sum) = (0.0, 0.0);
        for (var i = white.Length - 1; i >= 0; i--)
        {
            var next = white[i] + (Moving * filtered);
            sum += next - (Fading * filtered);
            filtered = next;
            products[i] = products[i + 1] + sum;
        }

        return products;
    }

    /// <summary>Product of two endless courses over so many strips of the later one, which begins so many strips after the other.</summary>
    public double Product(int lag, int strips) => strips == 0 ? 0 : _products[lag][strips];
}
