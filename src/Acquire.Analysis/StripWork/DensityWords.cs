namespace Acquire.Analysis.StripWork;

/// <summary>Numbers in sentences.</summary>
internal static class DensityWords
{
    /// <summary>A change with its sign and standard uncertainty.</summary>
    public static string Signed(double value, double uncertainty) =>
        $"{Numbers.Deviation(value)} ± {uncertainty.ToString("0.000", CultureInfo.InvariantCulture)}";

    /// <summary>A size with its standard uncertainty.</summary>
    public static string Size(double value, double uncertainty) =>
        string.Create(CultureInfo.InvariantCulture, $"{Math.Abs(value):0.000} ± {uncertainty:0.000}");
}
