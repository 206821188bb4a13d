namespace Acquire.Analysis.Gauge;

/// <summary>A zero or a slope as the readings show it, with its 95 % interval.</summary>
/// <param name="Value">The estimate: a density for a zero, reading per certified density for a slope.</param>
/// <param name="Low">Lower end.</param>
/// <param name="High">Upper end.</param>
public readonly record struct Adjustment(double Value, double Low, double High)
{
    internal static Adjustment About(double value, double margin) => new(value, value - margin, value + margin);

    /// <summary>Whether the interval holds a value.</summary>
    public bool Holds(double value) => value >= Low && value <= High;
}
