namespace Acquire.Analysis.Judgement;

/// <summary>
/// Takes a curve parameter of a strip and, in the same way, of its aims. Both curves are drawn by the same steps: those that have a mean
/// and an aim, so that a step left out does not look like a deviation.
/// </summary>
internal static class CurveJudge
{
    public static ParameterResult Of(CurveParameter parameter, Channel channel, StripRecord record, ComparedStrip strip)
    {
        var layout = record.JudgedBy.LayoutOf(record.Layout);
        return layout is not null && parameter.IsOn(layout, record.JudgedBy)
            ? Compare(parameter, channel, layout, strip)
            : Missing($"{parameter.Name} is not on this strip: {WhyNotOn(record, layout)}.").ToResult(
                parameter, channel) with { OnStrip = false };
    }

    private static ParameterResult Compare(CurveParameter parameter, Channel channel, SheetLayout layout, ComparedStrip strip)
    {
        var all = layout.Patches.Where(p => p.LogH is not null || IsBase(parameter, p)).Select(p => strip.Read(p, channel)).ToList();
        if (all.FirstOrDefault(p => IsBase(parameter, p.Patch)) is { Mean: null } unread)
        {
            return Missing(strip.Patch(unread.Patch.Patch.Key, channel).WhyMissing).ToResult(parameter, channel);
        }

        var hasAims = all.Any(p => p.Aim is not null) && all.Where(p => IsBase(parameter, p.Patch)).All(p => p.Aim is not null);
        var read = all.Where(p => p.Mean is not null && (!hasAims || p.Aim is not null)).ToImmutableArray();
        if (read.Count(p => p.Patch.LogH is not null) < 2)
        {
            return Missing($"{parameter.Name} needs two steps of the curve at least in {channel.Word()}, read and with an aim.").ToResult(
                parameter, channel);
        }

        var shape = new CurveShape(parameter, layout, [.. read.Select(p => p.Patch)]);
        var value = shape.Evaluate([.. read.Select(p => p.Mean!.Mean)], [.. read.Select(p => p.Variance)]);
        var aim = hasAims ? shape.Evaluate([.. read.Select(p => p.Aim!.Value)], [.. read.Select(p => p.AimVariance)]) : null;
        var why = value.Why is { } reason ? $"{parameter.Name}: {reason}."
            : aim is null ? strip.WhyNoAim(all.First(p => p.Aim is null).Patch.Patch.Key, channel)
            : aim.Why is { } onAims ? $"{parameter.Name} has no aim: on the aims "
                + $"{onAims.Replace("on this strip", "", StringComparison.Ordinal).TrimEnd()}."
            : null;
        var restsOn =
            read.Where((_, i) => !value.Derivatives.IsEmpty && value.Derivatives[i] is not (null or 0)).Select(p => p.Uncertainty!.Basis);
        return new Comparison(
            value.Value,
            aim?.Value,
            value.Variance is { } own && aim?.Variance is { } aims ? new ErrorParts(own, double.PositiveInfinity, 0, aims, 0) : null,
            [.. restsOn],
            why).ToResult(parameter, channel) with
        {
            Speed = parameter is SpeedPointParameter speed ? shape.Speed(speed, [.. read.Select(p => p.Mean!.Mean)]) : null,
        };
    }

    private static bool IsBase(CurveParameter parameter, LayoutPatch patch) =>
        string.Equals(patch.Patch.Key, parameter.BasePatchKey, StringComparison.OrdinalIgnoreCase);

    private static Comparison Missing(string? why) => new(null, null, null, [], why);

    private static string WhyNotOn(StripRecord record, SheetLayout? layout) => layout is null
        ? $"the process sheet has no strip layout '{record.Layout.Name}', so the exposures of its steps are not known"
        : $"the strip layout '{record.Layout.Name}' has not the patches with log exposures that it is taken of";
}
