namespace Acquire.Analysis.Gauge;

/// <summary>The reads of a repeatability test.</summary>
public sealed record RepeatabilityData
{
    /// <summary>Collects reads.</summary>
    /// <param name="reads">The reads, in order.</param>
    /// <param name="resolution">Display step for all channels, above 0; null to take it from the decimals of the reads.</param>
    /// <exception cref="GaugeException">There are no reads, one has no patch, a
    /// read is given twice, or the resolution is no step.</exception>
    public RepeatabilityData(ImmutableArray<GaugeRead> reads, double? resolution = null)
    {
        Reads = reads.IsDefaultOrEmpty
            ? throw new GaugeException("There are no reads; a repeatability test needs two reads of one patch at least.")
            : reads;
        if (reads.FirstOrDefault(r => string.IsNullOrWhiteSpace(r.Patch)) is { } nameless)
        {
            throw new GaugeException(
                string.Create(CultureInfo.InvariantCulture, $"Read {nameless.Number} names no patch; every read belongs to one."));
        }

        if (resolution is { } step && !(step > 0 && double.IsFinite(step)))
        {
            throw new GaugeException(
                string.Create(CultureInfo.InvariantCulture, $"A display step is above 0, such as 0.01; {step} is none."));
        }

        Resolution = resolution;
        RefuseTwice();
    }

    /// <summary>The reads of a record that count; each keeps the number it has among all reads of its patch.</summary>
    /// <param name="readsPerPlacement">How many reads that count follow each other without moving the patch.</param>
    /// <exception cref="GaugeException">No read counts.</exception>
    public static RepeatabilityData Of(ImmutableArray<PatchReads> patches, int readsPerPlacement = 1) => new(
    [
        .. from patch in patches
           where patch.LeftOut is null
           from read in patch.Reads.Select((r, i) => (r.Reading, r.Counts, Number: i + 1)).Where(r => r.Counts).Select(
               (r, i) => (r.Reading, r.Number, Index: i))
           select GaugeRead.Of(
               patch.Patch.Key, read.Number, read.Reading.Densities, readsPerPlacement > 1 ? (read.Index / readsPerPlacement) + 1 : null),
    ]);

    /// <summary>The reads, in order.</summary>
    public ImmutableArray<GaugeRead> Reads { get; }

    /// <summary>Display step for all channels; null when the decimals of the reads tell it.</summary>
    public double? Resolution { get; }

    /// <summary>The patches, in the order of their first read; keys compare without regard to case.</summary>
    public ImmutableArray<string> Patches => [.. Reads.Select(r => r.Patch).Distinct(StringComparer.OrdinalIgnoreCase)];

    /// <summary>The channels that any read has, in the usual order.</summary>
    public ImmutableArray<Channel> ChannelsPresent => [.. Channels.All.Where(c => Reads.Any(r => r.Values.ContainsKey(c)))];

    /// <summary>The reads of a patch that have a value in the channel.</summary>
    public ImmutableArray<GaugeRead> Of(string patch, Channel channel) =>
        [.. Reads.Where(r => Keys.Same(r.Patch, patch) && r.Values.ContainsKey(channel))];

    /// <summary>The display step in a channel: one unit of the last decimal of the read with the most
    /// decimals, since other programs drop zeros at the end.</summary>
    public double StepOf(Channel channel) =>
        Resolution ?? Math.Pow(10, -Reads.Where(r => r.Values.ContainsKey(channel)).Max(r => (int)r.Values[channel].Scale));

    private void RefuseTwice()
    {
        var twice = Reads.GroupBy(r => (r.Patch.ToUpperInvariant(), r.Placement, r.Number)).FirstOrDefault(g => g.Count() > 1)?.First();
        if (twice is not null)
        {
            var where = twice.Placement is { } p ? string.Create(CultureInfo.InvariantCulture, $", placement {p}") : "";
            throw new GaugeException(string.Create(
                CultureInfo.InvariantCulture,
                $"Read {twice.Number} of patch {twice.Patch}{where} is given twice; number the reads of a patch 1, 2, 3 …"));
        }
    }
}

/// <summary>One read of one patch, taken to learn about the instrument.</summary>
/// <param name="Patch">Key of the patch.</param>
/// <param name="Number">Number of the read, as the user counts them.</param>
/// <param name="Values">Value in each channel, with the decimals as shown. Any number is taken: the
/// statistics are the same for readings of another scale.</param>
/// <param name="Placement">Which placement of the film on the instrument the read belongs to; reads of one placement were made
/// without moving it. Null when every read was placed anew.</param>
public sealed record GaugeRead(string Patch, int Number, ImmutableDictionary<Channel, decimal> Values, int? Placement = null)
{
    /// <summary>A read of densities.</summary>
    public static GaugeRead Of(string patch, int number, ChannelDensities densities, int? placement = null)
    {
        return new GaugeRead(patch, number, densities.Present.ToImmutableDictionary(c => c, c => densities[c]!.Value.Value), placement);
    }
}

/// <summary>Readings or certified values from which nothing can be learned about the instrument. The message is for the
/// user: what is wrong, what was expected, what to do.</summary>
public sealed class GaugeException(string message) : Exception(message);
