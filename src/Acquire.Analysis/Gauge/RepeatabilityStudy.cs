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
        ArgumentNullException.ThrowIfNull(data);
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
        ArgumentNullException.ThrowIfNull(test);
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

        var results = patches.Select(p => PatchOf(p, channel, step, pooled)).ToImmutableArray();
        return new ChannelRepeatability(
            channel,
            Summary.Of([.. results.Select(r => r.Level)]).Mean,
            pooled,
            SpecificationTest.Of(pooled.Stated, pooled.DegreesOfFreedom, sigma),
            results);
    }

    private static PatchRepeatability PatchOf(Placements patch, Channel channel, double step, Scatter pooled) => new(
        patch.Patch,
        channel,
        patch.Summarise(channel).Mean,
        patch.UncertaintyOfMean(pooled),
        patch.Reads.Length,
        Placements.ScatterOf([patch.Analyse()], patch.Reads.Length, step),
        SuspectReads.Of(patch, channel, step))
    {
        NeverPlacedAnew = patch is { Reads.Length: > 1, Groups.Length: 1 },
    };
}
