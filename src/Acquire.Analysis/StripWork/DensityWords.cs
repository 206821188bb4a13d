namespace Acquire.Analysis.StripWork;

/// <summary>Numbers in sentences.</summary>
internal static class DensityWords
{
    /// <summary>A deviation or a change, with its sign.</summary>
    public static string Signed(double value) =>
        Math.Round(value, 3) == 0 ? "0.000" : value.ToString("+0.000;-0.000", CultureInfo.InvariantCulture);

    /// <summary>A change with its sign and standard uncertainty.</summary>
    public static string Signed(double value, double uncertainty) =>
        $"{Signed(value)} ± {uncertainty.ToString("0.000", CultureInfo.InvariantCulture)}";

    /// <summary>A size with its standard uncertainty.</summary>
    public static string Size(double value, double uncertainty) =>
        string.Create(CultureInfo.InvariantCulture, $"{Math.Abs(value):0.000} ± {uncertainty:0.000}");
}
