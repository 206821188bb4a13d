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
        ArgumentNullException.ThrowIfNull(strip);
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
