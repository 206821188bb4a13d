namespace Acquire.Analysis.Plausibility;

/// <summary>What is known of a strip before it is read.</summary>
/// <param name="Sheet">The process sheet in force.</param>
/// <param name="Layout">The patches in reading order.</param>
public sealed record StripKnowledge(ProcessSheet Sheet, StripLayout Layout)
{
    /// <summary>The lot's aims; empty when the lot's reference itself is read, and then only tests that need none apply.</summary>
    public ImmutableArray<Aim> Aims { get; init; } = [];

    /// <summary>
    /// Standard deviation of re-placed reads in each channel, in density, from the instrument's repeatability test; a channel that is
    /// absent counts with <see cref="PlausibilitySettings.UsualRepeatability"/>.
    /// </summary>
    public ImmutableDictionary<Channel, double> Repeatability { get; init; } = ImmutableDictionary<Channel, double>.Empty;

    /// <summary>Other lots of the same process and layout that are in the house.</summary>
    public ImmutableArray<OtherLot> OtherLots { get; init; } = [];

    /// <summary>What the process has been doing of late; empty when nothing is known.</summary>
    public ImmutableArray<RecentDeviation> Recent { get; init; } = [];

    /// <summary>
    /// Whether the film is a masked negative, B &gt; G &gt; R in every neutral; null to tell it from the aims, or without aims from
    /// the status (M is for colour negatives that are to be printed, ISO 5-3).
    /// </summary>
    public bool? MaskedNegative { get; init; }

    /// <summary>How many reads follow each other without moving the strip; 1 when it is placed anew for each.</summary>
    public int ReadsPerPlacement { get; init; } = 1;

    /// <summary>Priors and thresholds.</summary>
    public PlausibilitySettings Settings { get; init; } = new();

    /// <summary>The repeatability that counts for a channel, in density.</summary>
    internal double RepeatabilityOf(Channel channel) =>
        Repeatability.TryGetValue(channel, out var s) && s > 0 && double.IsFinite(s) ? s : Settings.UsualRepeatability;

    internal Aim? Aim(string patchKey, Channel channel) => Find(Aims, patchKey, channel);

    internal static Aim? Find(ImmutableArray<Aim> aims, string patchKey, Channel channel) =>
        aims.FirstOrDefault(a => a.Channel == channel && string.Equals(a.PatchKey, patchKey, StringComparison.OrdinalIgnoreCase));
}
