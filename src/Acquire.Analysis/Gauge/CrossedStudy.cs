using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Gauge;

/// <summary>What the scatter of readings is made of when several persons or instruments read the same patches.</summary>
/// <param name="Data">The reads.</param>
/// <param name="Channels">Channel by channel, in the usual order.</param>
/// <param name="Notes">What the user should know of the numbers, in words.</param>
public sealed record CrossedStudy(CrossedData Data, ImmutableArray<CrossedChannel> Channels, ImmutableArray<string> Notes)
{
    /// <summary>Fewer levels of a factor than this tell little of what it adds (common practice, no source).</summary>
    private const int FewLevels = 3;

    /// <summary>Whether the repeatability passes its specification in every channel.</summary>
    public bool Passes => Channels.All(c => c.Specification.Passes);

    /// <summary>Studies reads.</summary>
    /// <param name="specification">What scatter of one person's reads the user accepts.</param>
    /// <param name="sheet">The process whose limits the gauge is held against; null for none.</param>
    /// <param name="tolerance">A width that the gauge is held against, in the unit of the reads, above 0; null for none.</param>
    /// <exception cref="GaugeException">The tolerance is no width.</exception>
    public static CrossedStudy Of(
        CrossedData data, RepeatabilitySpecification specification, ProcessSheet? sheet = null, double? tolerance = null)
    {
        if (tolerance is { } width && !(width > 0 && double.IsFinite(width)))
        {
            throw new GaugeException("A tolerance is a width above 0, such as 0.12 for ±0.06.");
        }

        ImmutableArray<CrossedChannel> channels =
        [
            .. data.Reads[0].Values.Keys.Order().Select(c => CrossedChannel.Of(data, c, specification.For(c), sheet, tolerance)),
        ];
        return new CrossedStudy(data, channels, [.. data.Notes, .. NotesOf(data, channels)]);
    }

    private static IEnumerable<string> NotesOf(CrossedData data, ImmutableArray<CrossedChannel> channels)
    {
        foreach (var factor in data.Factors.Skip(1).Where(f => data.LevelsOf(f) < FewLevels))
        {
            yield return $"{data.LevelsOf(factor)} levels of {factor} tell next to nothing of what others would add; the interval says so.";
        }

        yield return "Persons, instruments and patches count as drawn from many; an interaction that chance explains (P above "
            + $"{CrossedVariance.PoolAbove.ToString(CultureInfo.InvariantCulture)}, common practice) is pooled with the scatter of reads.";
        yield return "Shares of variation and the number of densities told apart are of these patches; patches chosen otherwise give "
            + "others.";
        foreach (var channel in channels.Where(c => c.StepSpeaks))
        {
            yield return $"{channel.Channel.Word()}: the reads repeat to less than half a display step, so the step hides what the "
                + "instrument does; repeatability is stated as the step alone makes it.";
        }
    }
}

/// <summary>One channel of a crossed study.</summary>
/// <param name="Full">With all interactions.</param>
/// <param name="Additive">Without any.</param>
/// <param name="Used">What the components rest on: the interactions that chance explains pooled.</param>
/// <param name="Parts">
/// Repeatability, what each factor and interaction adds, then reproducibility, the gauge, patch to patch, total.
/// </param>
/// <param name="Specification">The repeatability against what the user accepts.</param>
/// <param name="Limits">What the gauge uses up of the limits of the process.</param>
/// <param name="Step">Display step, by the decimals of the reads.</param>
public sealed record CrossedChannel(
    Channel Channel, CrossedVariance Full, CrossedVariance Additive, CrossedVariance Used, ImmutableArray<CrossedPart> Parts,
    SpecificationTest Specification, ImmutableArray<CrossedLimit> Limits, double Step)
{
    /// <summary>One patch of a set in so many different densities could be told apart: 1.41 · σ of patches / σ of the gauge, cut to a
    /// whole number (√2, common practice of gauge studies); null where the gauge does not scatter at all.</summary>
    public int? DistinctCategories => this[PartKind.Gauge].Sigma is > 0 and var gauge
        ? CrossedShares.Whole(this[PartKind.Patch].Sigma / gauge) : null;

    /// <summary>The 95 % interval of that, by generalised inference; null where there is no such number.</summary>
    public (int Low, int High)? Categories { get; init; }

    /// <summary>Whether the display step hides the scatter of one person's reads (s below half a step).</summary>
    public bool StepSpeaks => Math.Sqrt(Used.Residual.MeanSquare!.Value) < Step / 2 * (1 - 1e-9);

    /// <summary>The one part of a kind.</summary>
    public CrossedPart this[PartKind kind] => Parts.First(p => p.Kind == kind);

    internal static CrossedChannel Of(CrossedData data, Channel channel, double sigma, ProcessSheet? sheet, double? tolerance)
    {
        var full = CrossedVariance.Of(data.Of(channel));
        var used = full.Pooled();
        var step = Math.Pow(10, -data.Reads.Max(r => (int)r.Values[channel].Scale));
        var repeat = new MeanSquares([(1, used.Residual, 0)]);
        // No display tells of less scatter than its own rounding makes.
        var least = step * step / 12;
        ImmutableArray<CrossedPart> parts =
        [
            CrossedPart.Of(PartKind.Repeatability, "repeatability", repeat, least, tolerance),
            .. used.Effects.Where(e => e.Factors != 1)
                .Select(e => CrossedPart.Of(PartKind.Effect, Name(data, e), e.Component, 0, tolerance) with { Factors = e.Factors }),
        ];
        var (others, reads) = (parts.Where(p => p.Kind == PartKind.Effect).Sum(p => p.Variance), parts[0].Variance);
        var patch = CrossedPart.Of(PartKind.Patch, "patch to patch", used.Sum(e => e.Factors == 1, residual: false), 0, tolerance);
        parts =
        [
            .. parts,
            CrossedPart.Of(PartKind.Reproducibility, "reproducibility", used.Sum(e => e.Factors != 1, residual: false), 0, tolerance)
                .At(others, tolerance),
            CrossedPart.Of(PartKind.Gauge, "gauge, both together", used.Sum(e => e.Factors != 1, residual: true), least, tolerance)
                .At(others + reads, tolerance),
            patch,
            CrossedPart.Of(PartKind.Total, "total", used.Sum(_ => true, residual: true), least, tolerance)
                .At(others + reads + patch.Variance, tolerance),
        ];
        var total = parts[^1].Variance;
        var spread = new CrossedShares(used, least);
        parts = [.. parts.Select(p => spread.Add(p with { ShareOfVariation = total > 0 ? Math.Sqrt(p.Variance / total) : null }))];
        return new CrossedChannel(
            channel, full, full.Additive(), used, parts,
            SpecificationTest.Of(parts[0].Sigma, used.Residual.DegreesOfFreedom, sigma),
            sheet is null ? [] : CrossedLimit.Of(sheet, channel, used, parts), step)
        {
            Categories = spread.Categories(),
        };
    }

    /// <summary>What an effect is called.</summary>
    public static string Name(CrossedData data, CrossedEffect effect) =>
        string.Join(" × ", data.Factors.Where((_, i) => ((effect.Factors >> i) & 1) == 1));
}

/// <summary>What a part of the variation is of.</summary>
public enum PartKind
{
    /// <summary>Reads of one patch by one person on one instrument.</summary>
    Repeatability,

    /// <summary>What one factor adds, or several together.</summary>
    Effect,

    /// <summary>All that persons and instruments add.</summary>
    Reproducibility,

    /// <summary>Repeatability and reproducibility together: what the measuring adds.</summary>
    Gauge,

    /// <summary>The differences between the patches themselves.</summary>
    Patch,

    /// <summary>Gauge and patches together.</summary>
    Total,
}

/// <summary>A part of the variation as a standard deviation, in the unit of the reads.</summary>
/// <param name="Variance">Estimate, 0 at least.</param>
/// <param name="Low">Lower end of the 95 % interval of the standard deviation, 0 at least.</param>
/// <param name="High">Upper end.</param>
/// <param name="ShareOfTolerance">6 standard deviations over the tolerance; null without one, and of what patches add.</param>
public sealed record CrossedPart(
    PartKind Kind, string Name, double Variance, double Low, double High, double? ShareOfTolerance)
{
    /// <summary>Standard deviation over that of everything; null where nothing scatters. These shares do not add up to 1.</summary>
    public double? ShareOfVariation { get; init; }

    /// <summary>The 95 % interval of that share, by generalised inference; null where it is null.</summary>
    public (double Low, double High)? ShareInterval { get; init; }

    /// <summary>The effects that an interaction or a factor is, a bit for each factor; 0 for what is no single one.</summary>
    public int Factors { get; init; }

    public double Sigma => Math.Sqrt(Variance);

    internal static CrossedPart Of(PartKind kind, string name, MeanSquares variance, double least, double? tolerance)
    {
        var (low, high) = variance.Interval();
        // The lower end stays free of the least, as the reads have it.
        return new CrossedPart(kind, name, 0, Math.Sqrt(Math.Max(0, low)), Math.Sqrt(Math.Max(least, high)), null)
            .At(Math.Max(least, variance.Value), tolerance);
    }

    // An estimate below 0 counts as 0 in a sum, which may lift the sum past the interval of the mean squares.
    internal CrossedPart At(double variance, double? tolerance) => this with
    {
        Variance = variance,
        High = Math.Max(High, Math.Sqrt(variance)),
        // Patches are chosen to differ, and what was chosen uses up no tolerance.
        ShareOfTolerance = Kind is PartKind.Patch or PartKind.Total ? null : 6 * Math.Sqrt(variance) / tolerance,
    };
}

/// <summary>What the gauge uses up of one limit of the process.</summary>
/// <param name="IsControl">Whether it is the control limit; else the action limit.</param>
/// <param name="Sigma">Standard deviation of the parameter from one read of each patch.</param>
/// <param name="Share">6 standard deviations over the width of the limit; with one side, over its distance from the aim.</param>
public sealed record CrossedLimit(Parameter Parameter, Channel Channel, bool IsControl, Limit Limit, double Sigma, double Share)
{
    internal static ImmutableArray<CrossedLimit> Of(
        ProcessSheet sheet, Channel channel, CrossedVariance used, ImmutableArray<CrossedPart> parts)
    {
        var gauge = parts.First(p => p.Kind == PartKind.Gauge).Variance;
        // What a person or instrument adds to every patch alike cancels between two patches; bit 0 is the patch.
        var same = used.Effects.Where(e => (e.Factors & 1) == 0).Sum(e => Math.Max(0, e.Component.Value));
        return
        [
            .. from parameter in sheet.Parameters
               let variance = parameter.Match<double?>(p => p.Channels.Contains(channel) ? gauge : null,
                   d => d.Channels.Contains(channel) ? 2 * (gauge - same) : null, _ => null, _ => null)
               where variance is not null
               from side in new[] { (Limit: parameter.LimitsIn(channel).Action, IsControl: false),
                   (Limit: parameter.LimitsIn(channel).Control, IsControl: true) }
               let width = side.Limit is { } l ? (l.Upper ?? 0) - (l.Lower ?? 0) : 0
               where width > 0
               let sigma = Math.Sqrt(variance!.Value)
               select new CrossedLimit(parameter, channel, side.IsControl, side.Limit!, sigma, 6 * sigma / width),
        ];
    }
}
