namespace Acquire.Analysis.Statistics;

/// <summary>
/// A sum that carries the bits each addition loses (Neumaier, <i>Z. Angew. Math. Mech.</i> 54, 1974), so that it is as good as if
/// it had been added in twice the precision.
/// </summary>
internal struct CompensatedSum
{
    private double _sum;
    private double _lost;

    public readonly double Value => _sum + _lost;

    public void Add(double term)
    {
        var next = _sum + term;
        _lost += Math.Abs(_sum) >= Math.Abs(term) ? _sum - next + term : term - next + _sum;
        _sum = next;
    }
}
