namespace Acquire.Analysis.Gauge;

/// <summary>Puts into words what the numbers of a repeatability test leave unsaid.</summary>
internal static class RepeatabilityNotes
{
    /// <summary>With fewer degrees of freedom the true deviation may be more than twice the one found (95 %).</summary>
    private const int Few = 8;

    public static ImmutableArray<string> Of(RepeatabilityData data, ImmutableArray<ChannelRepeatability> channels) =>
    [
        .. data.ChannelsPresent.Where(c => channels.All(k => k.Channel != c))
            .Select(c => $"{c.Word()}: no patch was read twice, so the channel is left out."),
        .. FewOf(channels),
        .. channels.SelectMany(Of),
        .. channels.SelectMany(c => c.Patches).Select(p => p.Suspect).OfType<SuspectRead>().Select(Of),
    ];

    /// <summary>One sentence for all channels that rest on few reads.</summary>
    private static IEnumerable<string> FewOf(ImmutableArray<ChannelRepeatability> channels)
    {
        ChannelRepeatability[] few = [.. channels.Where(c => c.Pooled.DegreesOfFreedom < Few)];
        if (few.Length == 0)
        {
            yield break;
        }

        var names = string.Join(", ", few.Select(c => c.Channel.Word()));
        var freedom = string.Join("/", few.Select(c => c.Pooled.DegreesOfFreedom).Distinct());
        var ranges = few.ToLookup(
            c => string.Create(CultureInfo.InvariantCulture, $"from {c.Pooled.SLow:0.0000} to {c.Pooled.SHigh:0.0000}"),
            c => c.Channel.Word());
        var where = ranges.Count == 1 ? ranges.First().Key : string.Join(", ", ranges.Select(r => $"{r.Key} in {string.Join(" and ", r)}"));
        var degrees = freedom == "1" ? "degree of freedom is" : "degrees of freedom are";
        yield return $"{names}: {freedom} {degrees} few; the true deviation may be anywhere {where}. Ten reads of one patch tell more.";
    }

    private static IEnumerable<string> Of(ChannelRepeatability channel)
    {
        var (word, s) = (channel.Channel.Word(), channel.Pooled);
        if (s.AllEqual)
        {
            yield return string.Create(
                CultureInfo.InvariantCulture,
                $"{word}: all repeats are equal. That does not mean no scatter: the display step of {s.Resolution} hides it, and s is "
                + $"stated as {s.Stated:0.0000}, what rounding alone makes.");
        }
        else if (s.ResolutionSpeaks)
        {
            yield return string.Create(
                CultureInfo.InvariantCulture,
                $"{word}: the reads scatter by less than half the display step of {s.Resolution}, so the step decides what can be told; "
                + $"more reads do not average it out.");
        }

        if (!channel.Specification.Passes)
        {
            yield return string.Create(
                CultureInfo.InvariantCulture,
                $"{word}: s = {s.Stated:0.0000} is more than the accepted {channel.Specification.Sigma:0.000#} can explain (χ² "
                + $"{channel.Specification.ChiSquare:0.00} > {channel.Specification.Critical:0.00}). Clean the aperture, let the lamp "
                    + $"warm up, hold the film flat, and repeat.");
        }

        if (UnequalScatter.Of(channel) is var (patch, others))
        {
            yield return string.Create(
                CultureInfo.InvariantCulture,
                $"{word}: patch {patch.Patch} scatters more (s = {patch.Scatter!.Stated:0.0000}) than the others ({others:0.0000}); for "
                + $"it the pooled s says too little. Look whether it lies flat and is free of scratches.");
        }

        if (s.Components is { BetweenFloored: true })
        {
            yield return string.Create(
                CultureInfo.InvariantCulture,
                $"{word}: placing the film anew adds nothing that can be seen; its component came out below 0 and is stated as 0.");
        }
        else if (s.Components is null && channel.Patches.All(p => p.NeverPlacedAnew))
        {
            yield return string.Create(
                CultureInfo.InvariantCulture,
                $"{word}: no patch was placed twice, so this is the scatter without moving the film; re-placed reads scatter more.");
        }
    }

    private static string Of(SuspectRead suspect)
    {
        var placement = suspect.Placement is { } p ? string.Create(CultureInfo.InvariantCulture, $", placement {p}") : "";
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{suspect.Channel.Word()}: read {suspect.Number} of patch {suspect.Patch}{placement} ({suspect.Value}) stands apart: "
            + $"{suspect.G:0.00} standard deviations from the mean, {suspect.Critical:0.00} expected at most. It counts until you leave "
                + $"it out and say why.");
    }
}
