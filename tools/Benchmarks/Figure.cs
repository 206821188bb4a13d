namespace Benchmarks;

/// <summary>One measured figure.</summary>
/// <param name="Unit">Its unit; <c>×</c> for a ratio to the bare program.</param>
/// <param name="Aim">The most it should be; null where it is only shown.</param>
/// <param name="Spread">How far single measurements lie apart, in words.</param>
internal sealed record Figure(string Name, double Value, string Unit, double? Aim, string Spread)
{
    public bool IsMet => Aim is not { } most || Value <= most;

    /// <summary>A ratio on a shared machine moves by itself; half as much again is no accident.</summary>
    public bool IsMissedByFar => Aim is { } most && Value > 1.5 * most;
}

/// <summary>Times of single trials, milliseconds.</summary>
internal sealed class Times
{
    private readonly List<double> _all = [];

    public void Add(TimeSpan time) => _all.Add(time.TotalMilliseconds);

    public double Median => Quantile(0.5);

    /// <summary>The smallest time that at least this share of the trials does not exceed.</summary>
    public double Quantile(double share)
    {
        var sorted = _all.Order().ToList();
        return sorted[Math.Clamp((int)Math.Ceiling(share * sorted.Count) - 1, 0, sorted.Count - 1)];
    }

    public string Spread => string.Create(
        CultureInfo.InvariantCulture,
        $"n {_all.Count}, quartiles {Quantile(0.25):0.0} to {Quantile(0.75):0.0} ms, longest {_all.Max():0.0} ms");
}
