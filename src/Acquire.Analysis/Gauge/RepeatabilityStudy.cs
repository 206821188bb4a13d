using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Gauge;

/// <summary>Learns from repeated reads of the same patches how well an instrument repeats.</summary>
public static class RepeatabilityStudy
{
    /// <summary>Studies reads.</summary>
    /// <param name="data">The reads.</param>
    /// <param name="specification">What scatter the user accepts; null for the usual one.</param>
    /// <param name="sheet">The process whose limits the scatter is held against; null for none.</param>
    /// <exception cref="GaugeException">No patch was read twice in any channel.</exception>
    public static RepeatabilityReport Of(
        RepeatabilityData data, RepeatabilitySpecification? specification = null, ProcessSheet? sheet = null)
    {
        var accepted = specification ?? RepeatabilitySpecification.Default;
        ImmutableArray<ChannelRepeatability> channels =
            [.. data.ChannelsPresent.Select(c => Study(data, c, accepted.For(c))).OfType<ChannelRepeatability>()];
        if (channels.IsEmpty)
        {
            throw new GaugeException(
                "No patch was read twice, so nothing is known of how the instrument repeats; read each patch twice at least, better ten "
                + "times, placing the film anew each time.");
        }

        var limits = sheet is null ? [] : LimitUses.Of(sheet, channels.ToImmutableDictionary(c => c.Channel, c => c.Pooled));
        return new RepeatabilityReport(channels, limits, RepeatabilityNotes.Of(data, channels));
    }

    /// <summary>What a test tells, by the specification it was made with.</summary>
    /// <exception cref="GaugeException">No patch was read twice.</exception>
    public static RepeatabilityReport Of(RepeatabilityTest test, ProcessSheet? sheet = null)
    {
        return Of(RepeatabilityData.Of(test.Patches, test.ReadsPerPlacement), RepeatabilitySpecification.Same(test.Specification), sheet);
    }

    private static ChannelRepeatability? Study(RepeatabilityData data, Channel channel, double sigma)
    {
        var step = data.StepOf(channel);
        ImmutableArray<Placements> patches =
            [.. data.Patches.Select(p => Placements.Of(data, p, channel)).Where(p => !p.Reads.IsEmpty)];
        if (Placements.ScatterOf([.. patches.Select(p => p.Analyse())], patches.Sum(p => p.Reads.Length), step) is not { } pooled)
        {
            return null;
        }

        // Levels rest on the pooled scatter: three reads of one patch tell little of how the instrument repeats.
        var results = patches.Select(p => PatchOf(p, channel, step, pooled)).ToImmutableArray();
        return new ChannelRepeatability(
            channel, Summary.Of([.. results.Select(r => r.Level)]).Mean, pooled,
            SpecificationTest.Of(pooled.Stated, pooled.DegreesOfFreedom, sigma), results);
    }

    private static PatchRepeatability PatchOf(Placements patch, Channel channel, double step, Scatter pooled) => new(
        patch.Patch, channel, patch.Summarise(channel).Mean, patch.UncertaintyOfMean(pooled), patch.Reads.Length,
        Placements.ScatterOf([patch.Analyse()], patch.Reads.Length, step), SuspectReads.Of(patch, channel, step))
    {
        NeverPlacedAnew = patch is { Reads.Length: > 1, Groups.Length: 1 },
    };
}

/// <summary>The largest true standard deviation σ₀ of one re-placed read that the user accepts, in density.</summary>
public sealed record RepeatabilitySpecification
{
    /// <summary>σ₀ of a channel that has none of its own: 0.010 (common practice, no source).</summary>
    public const double Usual = 0.010;

    private readonly ImmutableDictionary<Channel, double> _byChannel;

    /// <summary>States a specification; channels left out have the usual one.</summary>
    /// <exception cref="GaugeException">A value is not a finite number above 0.</exception>
    public RepeatabilitySpecification(ImmutableDictionary<Channel, double>? byChannel = null)
    {
        _byChannel = byChannel ?? ImmutableDictionary<Channel, double>.Empty;
        if (_byChannel.Values.Any(v => !(v > 0 && double.IsFinite(v))))
        {
            throw new GaugeException("The accepted standard deviation of a read is a number above 0, such as 0.010.");
        }
    }

    /// <summary>0.010 in every channel.</summary>
    public static RepeatabilitySpecification Default { get; } = new();

    /// <summary>The same in every channel.</summary>
    public static RepeatabilitySpecification Same(double sigma) => new(Channels.All.ToImmutableDictionary(c => c, _ => sigma));

    /// <summary>σ₀ in a channel, in density.</summary>
    public double For(Channel channel) => _byChannel.TryGetValue(channel, out var sigma) ? sigma : Usual;
}

/// <summary>Is the scatter larger than accepted, or could chance have made it? χ² = ν s²/σ₀² against χ²(0.95; ν).</summary>
/// <param name="Sigma">The accepted standard deviation σ₀.</param>
/// <param name="ChiSquare">ν s²/σ₀².</param>
/// <param name="Critical">What χ² exceeds by chance once in twenty when the true deviation is σ₀.</param>
/// <param name="P">Chance of a χ² this large when the true deviation is σ₀.</param>
public sealed record SpecificationTest(double Sigma, double ChiSquare, double Critical, double P)
{
    /// <summary>Whether the test is passed: the scatter is not shown to be larger than accepted. With few reads that is weak
    /// praise, which is why the interval belongs beside it.</summary>
    public bool Passes => ChiSquare <= Critical;

    /// <summary>Tests (NIST/SEMATECH e-Handbook 7.2.3).</summary>
    /// <exception cref="ArgumentOutOfRangeException">A number is outside its range.</exception>
    public static SpecificationTest Of(double standardDeviation, int degreesOfFreedom, double sigma)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(standardDeviation);
        ArgumentOutOfRangeException.ThrowIfLessThan(degreesOfFreedom, 1);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(sigma);
        var ratio = standardDeviation / sigma;
        var value = degreesOfFreedom * ratio * ratio;
        return new SpecificationTest(
            sigma, value, Quantiles.ChiSquare(0.95, degreesOfFreedom), Quantiles.ChiSquareTail(value, degreesOfFreedom));
    }
}

/// <summary>Which repeatability test was in force, and what it told. Tests are never changed or taken away, so what
/// was judged by one is judged by the same one for ever.</summary>
/// <param name="tests">All tests, in the order of reading.</param>
public sealed class TestsInForce(IReadOnlyList<RepeatabilityTest> tests)
{
    private readonly Dictionary<Guid, RepeatabilityInForce> _told = [];

    /// <summary>All of them, in the order of reading.</summary>
    public IReadOnlyList<RepeatabilityTest> All => tests;

    /// <summary>The last test of an instrument until a moment; null when there was none.</summary>
    public RepeatabilityInForce? Until(DateTimeOffset moment, string instrument) =>
        tests.LastOrDefault(t => Keys.Same(t.Provenance.Instrument?.Name, instrument) && t.Provenance.At <= moment) is { } test
            ? Told(test)
            : null;

    private RepeatabilityInForce Told(RepeatabilityTest test)
    {
        if (!_told.TryGetValue(test.Id, out var told))
        {
            _told[test.Id] = told = RepeatabilityStudy.Of(test).InForce(test.Id);
        }

        return told;
    }
}
