namespace Acquire.Formats;

/// <summary>In which order the numbers of a date stand.</summary>
public enum DateStyle
{
    /// <summary>Year, month, day: 2026-03-04.</summary>
    Ymd,

    /// <summary>Day, month, year: 04.03.2026.</summary>
    Dmy,

    /// <summary>Month, day, year: 03/04/2026.</summary>
    Mdy,
}
