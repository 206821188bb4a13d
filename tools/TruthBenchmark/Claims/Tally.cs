namespace TruthBenchmark.Claims;

/// <summary>Figures of many draws. A draw that has nothing to say is no number and does not count.</summary>
internal sealed class Tally
{
    private readonly List<double> _values;

    public Tally(IEnumerable<double> values) => _values = [.. values.Where(v => !double.IsNaN(v))];

    public int Count => _values.Count;

    public double Mean => Count == 0 ? double.NaN : _values.Average();

    /// <summary>
    /// Standard error of the mean over draws, each being one house. Of shares that came out 0 or 1 it is not taken for nothing: one more
    /// of either kind is thought of (after Wilson and Laplace).
    /// </summary>
    public double Error
    {
        get
        {
            if (Count < 2)
            {
                return double.PositiveInfinity;
            }

            var mean = Mean;
            var spread = _values.Sum(v => (v - mean) * (v - mean)) / (Count - 1);
            var share = ((mean * Count) + 1) / (Count + 2);
            var least = _values.TrueForAll(v => v is >= 0 and <= 1) && spread == 0 ? share * (1 - share) : 0;
            return Math.Sqrt(Math.Max(spread, least) / Count);
        }
    }

    public double Quantile(double share) =>
        Count == 0 ? double.NaN : _values.Order().ElementAt(Math.Min(Count - 1, (int)(share * Count)));

    public Claim Claim(string id, string what, Band aim) => new(id, what, aim, Mean, Error, Count);

    /// <summary>Draws in parallel, each with chance of its own, and gathers what each says, figure by figure.</summary>
    /// <param name="draw">Gives the figures of one draw, always as many.</param>
    public static ImmutableArray<Tally> Of(int draws, Func<int, double[]> draw)
    {
        var all = new double[draws][];
        Parallel.For(0, draws, i => all[i] = draw(i));
        return [.. Enumerable.Range(0, all[0].Length).Select(k => new Tally(all.Select(a => a[k])))];
    }
}
