namespace Acquire.Rendering;

/// <summary>How densities, deviations and times are written for people.</summary>
internal static class Numbers
{
    public static string Density(double value) => value.ToString("0.000", CultureInfo.InvariantCulture);

    /// <summary>A deviation with its sign; one that rounds to nothing has none.</summary>
    public static string Deviation(double value) =>
        Math.Round(value, 3) == 0 ? "0.000" : value.ToString("+0.000;-0.000", CultureInfo.InvariantCulture);

    /// <summary>A deviation of a parameter: without a sign where it has none.</summary>
    public static string Deviation(Parameter parameter, double value) => parameter.HasSign ? Deviation(value) : Density(value);

    /// <summary>So many of something: <c>1 line</c>, <c>2 lines</c>.</summary>
    public static string Count(int count, string what) => string.Create(CultureInfo.InvariantCulture, $"{count} {what}{(count == 1 ? "" : "s")}");

    public static string Day(DateOnly? day) => day?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) ?? "";

    public static string Moment(DateTimeOffset at, TimeProvider time) =>
        TimeZoneInfo.ConvertTime(at, time.LocalTimeZone).ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture);
}
