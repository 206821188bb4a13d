using Acquire.Analysis.Control;

namespace Acquire.Analysis.Charts;

/// <summary>What strips are charted against.</summary>
public enum ChartAxis
{
    /// <summary>The day and hour at which a strip was processed, by the local clock. Numbers are days since 0001-01-01.</summary>
    Date,

    /// <summary>Days since the solution was mixed.</summary>
    AgeOfMix,

    /// <summary>Days since the bottle was first opened.</summary>
    DaysOpen,

    /// <summary>Film area that had gone through the solution, in m² per litre.</summary>
    AreaPerLitre,
}

/// <summary>Where a strip lies on an axis, and how the axis is called.</summary>
public static class ChartAxes
{
    /// <summary>Where a strip lies; null when the books do not tell, or tell no finite number.</summary>
    public static double? Of(this ChartAxis axis, StripPoint strip)
    {
        var x = axis switch
        {
            ChartAxis.Date => DayOf(strip.At),
            ChartAxis.AgeOfMix => strip.AgeDays,
            ChartAxis.DaysOpen => strip.OpenDays,
            ChartAxis.AreaPerLitre => strip.AreaPerLitre,
            _ => throw new ArgumentOutOfRangeException(nameof(axis), axis, null),
        };
        return x is { } value && double.IsFinite(value) ? value : null;
    }

    /// <summary>A moment as a place on the date axis, by the clock of its own offset.</summary>
    public static double DayOf(DateTimeOffset at) => (double)at.DateTime.Ticks / TimeSpan.TicksPerDay;

    /// <summary>A place on the date axis as a moment of the clock, within the range that a calendar has.</summary>
    public static DateTime MomentOf(double day) =>
        new((long)(Math.Clamp(day, 0, DateTime.MaxValue.Ticks / (double)TimeSpan.TicksPerDay - 1) * TimeSpan.TicksPerDay));

    /// <summary>The axis in words, with its unit.</summary>
    public static string Title(this ChartAxis axis) => axis switch
    {
        ChartAxis.Date => "date processed",
        ChartAxis.AgeOfMix => "age of mix, days",
        ChartAxis.DaysOpen => "time since opening, days",
        ChartAxis.AreaPerLitre => "film area processed, m² per litre",
        _ => throw new ArgumentOutOfRangeException(nameof(axis), axis, null),
    };

    /// <summary>The unit of its numbers.</summary>
    public static string Unit(this ChartAxis axis) => axis == ChartAxis.AreaPerLitre ? "m²/L" : "days";
}

/// <summary>From where to where an axis goes.</summary>
/// <param name="Low">Its low end, in the unit of the axis: days since 0001-01-01, days, or m² per litre; of a panel, density.</param>
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
