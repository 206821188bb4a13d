namespace Acquire.Analysis.Control;

/// <summary>What a series is charted against. Whatever is null comes from the series itself.</summary>
public sealed record SeriesDesign
{
    /// <summary>Centre of the average and of the sums; null for the mean.</summary>
    public double? Target { get; init; }

    /// <summary>Standard deviation of one value; null for mean moving range / d2.</summary>
    public double? Sigma { get; init; }

    /// <summary>How many of the first values make the natural limits; null for all.</summary>
    public int? Baseline { get; init; }

    /// <summary>Weight of the newest value in the moving average.</summary>
    public double Lambda { get; init; } = 0.2;

    /// <summary>Half-width of the limits of the moving average, in its standard deviations.</summary>
    public double Width { get; init; } = 3;

    /// <summary>Allowance k of the sums, in the unit of the values; null for half a sigma.</summary>
    public double? Allowance { get; init; }

    /// <summary>Decision interval h of the sums, in the unit of the values; null for five sigmas.</summary>
    public double? Decision { get; init; }
}
