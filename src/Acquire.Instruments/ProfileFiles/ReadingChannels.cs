using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.ProfileFiles;

/// <summary>Which channels an instrument sends, by its profile.</summary>
public static class ReadingChannels
{
    /// <summary>
    /// The channels that every reading carries, by the rules and the samples, in the usual order. Empty where no channel is in all of them:
    /// an
    /// instrument that sends the visual density in one mode and the colours in another.
    /// </summary>
    public static ImmutableArray<Channel> Always(DeviceProfile profile)
    {
        ArgumentNullException.ThrowIfNull(profile);
        var readings = Whole(profile).Append(profile.Assembly?.Order ?? []).Where(channels => channels.Any())
            .Concat(profile.Samples.Select(s => s.Densities?.Present).OfType<ImmutableArray<Channel>>().Select(c => c.AsEnumerable()))
            .Select(c => c.ToHashSet())
            .ToList();
        return [.. Channels.All.Where(c => readings.TrueForAll(r => r.Contains(c)))];
    }

    private static IEnumerable<IEnumerable<Channel>> Whole(DeviceProfile profile) => profile.Rules
        .Where(r => r.Meaning == LineMeaning.Reading)
        .Select(r => RuleChecks.Slots(r, profile.Number).Select(s => (Channel)s));
}
