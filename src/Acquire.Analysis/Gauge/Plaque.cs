namespace Acquire.Analysis.Gauge;

/// <summary>A certified value printed on a plaque.</summary>
/// <param name="Patch">Key of the patch.</param>
/// <param name="Channel">The channel.</param>
/// <param name="Value">Certified density.</param>
/// <param name="StandardUncertainty">
/// Standard uncertainty of the value (half of an expanded uncertainty with k = 2), in density; null when the certificate states none.
/// </param>
public sealed record CertifiedValue(string Patch, Channel Channel, decimal Value, double? StandardUncertainty = null);

/// <summary>The certified patches of a calibration plaque and how far a reading may lie from them.</summary>
public sealed record Plaque
{
    /// <summary>
    /// The tolerance where the user states none: a slope is adjusted when off by more than 0.02 (common practice in density control).
    /// </summary>
    public const double UsualTolerance = 0.02;

    /// <summary>States a plaque.</summary>
    /// <param name="values">The certified values, along the plaque from the lowest density to the highest.</param>
    /// <param name="tolerance">How far a reading may lie from its certified value on either side, in density.</param>
    /// <exception cref="GaugeException">
    /// There are no values, one is stated twice, an uncertainty or the tolerance is no number in its range, or the values of a channel
    /// do not rise.
    /// </exception>
    public Plaque(ImmutableArray<CertifiedValue> values, double tolerance = UsualTolerance)
    {
        Values = values.IsDefaultOrEmpty
            ? throw new GaugeException("The plaque has no certified values; enter those printed on it.")
            : values;
        Tolerance = tolerance > 0 && double.IsFinite(tolerance)
            ? tolerance
            : throw new GaugeException("The tolerance of a plaque is a density above 0, such as 0.02.");
        if (values.Any(v => v.StandardUncertainty is { } u && !(u >= 0 && double.IsFinite(u))))
        {
            throw new GaugeException("The uncertainty of a certified value is a density of 0 at least.");
        }

        foreach (var channel in values.GroupBy(v => v.Channel))
        {
            RefuseOutOfOrder(channel.Key, [.. channel]);
        }
    }

    /// <summary>The certified values, along the plaque.</summary>
    public ImmutableArray<CertifiedValue> Values { get; }

    /// <summary>How far a reading may lie from its certified value on either side.</summary>
    public double Tolerance { get; }

    /// <summary>The patches, along the plaque.</summary>
    public ImmutableArray<string> Patches => [.. Values.Select(v => v.Patch).Distinct(StringComparer.OrdinalIgnoreCase)];

    /// <summary>The certified values of a channel, rising.</summary>
    public ImmutableArray<CertifiedValue> Of(Channel channel) => [.. Values.Where(v => v.Channel == channel)];

    private static void RefuseOutOfOrder(Channel channel, CertifiedValue[] values)
    {
        if (values.GroupBy(v => v.Patch, StringComparer.OrdinalIgnoreCase).FirstOrDefault(g => g.Count() > 1) is { } twice)
        {
            throw new GaugeException($"Patch {twice.Key} of the plaque has two certified values in {channel.Word()}; it has one on the plaque.");
        }

        foreach (var (lower, upper) in values.Zip(values.Skip(1)).Where(pair => pair.Second.Value <= pair.First.Value))
        {
            throw new GaugeException(string.Create(
                CultureInfo.InvariantCulture,
                $"The certified values in {channel.Word()} must rise along the plaque, but patch {upper.Patch} ({upper.Value}) is not above patch {lower.Patch} ({lower.Value}). Look at the plaque: a digit may be wrong, or the patches may be in the wrong order."));
        }
    }
}
