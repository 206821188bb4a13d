using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Control;

/// <summary>The statistics that strips are judged with, run on one plain series, so that anyone can hold them against a book.</summary>
public sealed record SeriesStudy
{
    /// <summary>Count, mean and standard deviation of all values.</summary>
    public required Summary Summary { get; init; }

    /// <summary>Lag-1 autocorrelation; null with fewer than 3 values or no scatter.</summary>
    public double? Lag1 { get; init; }

    /// <summary>Natural limits of the baseline; null with fewer than 2 values.</summary>
    public NaturalLimits? Limits { get; init; }

    /// <summary>Centre that the average and the sums are held against.</summary>
    public double Target { get; init; }

    /// <summary>Standard deviation of one value that they are scaled with; null when there is none to be had.</summary>
    public double? Sigma { get; init; }

    /// <summary>Every break of a Western Electric rule against the natural limits.</summary>
    public ImmutableArray<RunSignal> WesternElectric { get; init; } = [];

    /// <summary>Every break of a Nelson rule against the natural limits.</summary>
    public ImmutableArray<RunSignal> Nelson { get; init; } = [];

    /// <summary>The moving average after each value; empty without a sigma.</summary>
    public ImmutableArray<EwmaPoint> Ewma { get; init; } = [];

    /// <summary>The cumulative sums after each value; empty without a sigma.</summary>
    public ImmutableArray<CusumPoint> Cusum { get; init; } = [];

    /// <summary>The most probable step of the mean; null with fewer than 4 values or no scatter.</summary>
    public ChangePoint? ChangePoint { get; init; }

    /// <summary>The straight line of value on x; null unless every value has an x and there are 3 values at 2 places.</summary>
    public LinearModel? Line { get; init; }

    /// <summary>Analysis of variance between the groups; null unless every value has a group and there are 2 groups.</summary>
    public OneWay? Groups { get; init; }

    /// <summary>Chart of the group means, where all groups are of one size of 2 at least; null otherwise.</summary>
    public SubgroupChart? Subgroups { get; init; }

    /// <summary>Squares of larger numbers, and sums of them, would leave the range of a double.</summary>
    private const double Largest = 1e100;

    /// <summary>Studies a series.</summary>
    /// <param name="points">The values in their order.</param>
    /// <param name="design">What they are charted against.</param>
    /// <exception cref="ModelException">There is no value, a number is not finite, or the design is impossible.</exception>
    public static SeriesStudy Of(IReadOnlyList<SeriesPoint> points, SeriesDesign design)
    {
        Check(points, design);
        double[] values = [.. points.Select(p => p.Value)];
        var limits = NaturalLimits.Of(values[..(design.Baseline ?? values.Length)]);
        var summary = Summary.Of(values);
        var (target, sigma) = (design.Target ?? limits?.Centre ?? summary.Mean, Positive(design.Sigma ?? limits?.Sigma));
        var standardized = limits is { Sigma: > 0 } ? values.Select(limits.Standardize).ToArray() : [];
        return new SeriesStudy
        {
            Summary = summary,
            Lag1 = Autocorrelation.Lag1(values),
            Limits = limits,
            Target = target,
            Sigma = sigma,
            WesternElectric = RunSignal.Find(standardized, RunRuleSets.WesternElectric),
            Nelson = RunSignal.Find(standardized, RunRuleSets.Nelson),
            Ewma = sigma is { } s ? new Ewma(target, s, design.Lambda, design.Width).Of(values) : [],
            Cusum = sigma is { } one ? new Cusum(target, design.Allowance ?? (one / 2), design.Decision ?? (5 * one)).Of(values) : [],
            ChangePoint = ChangePoint.Of(values),
            Line = LineOf(points),
            Groups = Grouped(points) is { Count: > 1 } groups ? OneWay.Of(groups) : null,
            Subgroups = Grouped(points) is { Count: > 1 } equal && equal[0].Count > 1 && equal.All(g => g.Count == equal[0].Count)
                ? SubgroupChart.ByRanges(equal, Math.Min(equal.Count, design.Baseline / equal[0].Count ?? equal.Count)) : null,
        };
    }

    private static double? Positive(double? sigma) => sigma is > 0 ? sigma : null;

    private static LinearModel? LineOf(IReadOnlyList<SeriesPoint> points) =>
        points.Count > 2 && points.All(p => p.X is not null) && points.DistinctBy(p => p.X).Count() > 1
            ? LeastSquares.Fit([.. points.Select(p => p.Value)], [new Term("x", [.. points.Select(p => p.X!.Value)])])
            : null;

    private static List<IReadOnlyList<double>> Grouped(IReadOnlyList<SeriesPoint> points) => points.All(p => p.Group is not null)
        ? [.. points.GroupBy(p => p.Group, StringComparer.Ordinal).Select(g => (IReadOnlyList<double>)[.. g.Select(p => p.Value)])]
        : [];

    private static void Check(IReadOnlyList<SeriesPoint> points, SeriesDesign design)
    {
        if (points.Count == 0)
        {
            throw new ModelException("The series holds no value; it needs one at least.");
        }

        if (points.Index().FirstOrDefault(
            p => !double.IsFinite(p.Item.Value) || p.Item.X is { } x && !double.IsFinite(x)) is { Item: not null } odd)
        {
            throw new ModelException(FormattableString.Invariant($"Value {odd.Index + 1} of the series is not finite."));
        }

        if (points.Index().FirstOrDefault(p => Math.Max(Math.Abs(p.Item.Value), Math.Abs(p.Item.X ?? 0)) > Largest) is
            { Item: not null } huge)
        {
            throw new ModelException(FormattableString.Invariant(
                $"Value {huge.Index + 1} of the series is beyond ±{Largest:0e+0}, too large to reckon with; choose a larger unit."));
        }

        if (design is { Lambda: not (> 0 and <= 1) } or { Width: not > 0 } or { Sigma: not (null or > 0) }
            or { Allowance: not (null or >= 0) } or { Decision: not (null or > 0) })
        {
            throw new ModelException(
                "The weight lies above 0 and up to 1; width, sigma and decision interval are above 0, and the allowance is 0 or more.");
        }

        if (design.Baseline is { } baseline && (baseline < 2 || baseline > points.Count))
        {
            throw new ModelException(FormattableString.Invariant(
                $"A baseline of {baseline} does not fit {points.Count} values; it needs 2 at least, and no more than there are."));
        }
    }
}

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

/// <summary>One value of a plain series.</summary>
/// <param name="Value">The value, in any unit.</param>
/// <param name="Group">The group it belongs to; null when there are none.</param>
/// <param name="X">What it may depend on, such as days; null when there is nothing.</param>
public sealed record SeriesPoint(double Value, string? Group = null, double? X = null);
