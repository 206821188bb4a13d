using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Judgement;

/// <summary>The patches of one strip, each compared with its aim.</summary>
internal sealed class ComparedStrip(StripRecord record)
{
    public ImmutableDictionary<Channel, PooledDeviation> Repeatability { get; } =
        Judgement.Repeatability.Of(record.Means, record.Repeatability);

    public Comparison Patch(string patchKey, Channel channel)
    {
        var mean = record.Mean(patchKey, channel);
        var aim = record.Aim(patchKey, channel);
        var uncertainty = mean is null ? null : MeanUncertainty.Of(mean, Repeatability.GetValueOrNull(channel));
        return new Comparison(
            mean?.Mean,
            aim?.Value,
            uncertainty is null || aim is null ? null : Errors(uncertainty, aim),
            uncertainty is null ? [] : [uncertainty.Basis],
            mean is null ? WhyNoMean(patchKey, channel) : aim is null ? WhyNoAim(patchKey, channel) : null);
    }

    /// <summary>Mean and aim of a patch, for what is taken of many patches at once.</summary>
    public ReadPatch Read(LayoutPatch patch, Channel channel)
    {
        var mean = record.Mean(patch.Patch.Key, channel);
        var uncertainty = mean is null ? null : MeanUncertainty.Of(mean, Repeatability.GetValueOrNull(channel));
        return new ReadPatch(patch, mean, uncertainty, record.Aim(patch.Patch.Key, channel));
    }

    /// <summary>Whether the layout of the strip has a patch.</summary>
    public bool Has(string patchKey) => record.Layout.Patches.Any(p => string.Equals(p.Key, patchKey, StringComparison.OrdinalIgnoreCase));

    public string WhyNoAim(string patchKey, Channel channel) =>
        $"Lot {record.LotCode} had no aim for {record.Layout.Find(patchKey)?.Name ?? patchKey} in {channel.Word()}.";

    private string WhyNoMean(string patchKey, Channel channel)
    {
        var patch = record.Patches.FirstOrDefault(p => string.Equals(p.Patch.Key, patchKey, StringComparison.OrdinalIgnoreCase));
        return patch switch
        {
            null => $"The strip layout '{record.Layout.Name}' has no patch '{patchKey}'.",
            { LeftOut: { } leftOut } => $"{patch.Patch.Name} was left out: {leftOut.Reason}.",
            { Reads.IsEmpty: true } => $"{patch.Patch.Name} was not read.",
            _ when !patch.Accepted.Any() => $"No read of {patch.Patch.Name} counts.",
            _ => $"{patch.Patch.Name} was not read in {channel.Word()}.",
        };
    }

    private static ErrorParts Errors(MeanUncertainty uncertainty, Aim aim)
    {
        var basis = uncertainty.Basis;
        var step = basis.ResolutionAdded ? basis.Resolution * basis.Resolution / 12 : 0;
        return new ErrorParts(
            Math.Max(0, (uncertainty.StandardUncertainty * uncertainty.StandardUncertainty) - step),
            basis.Repeatability?.DegreesOfFreedom ?? double.PositiveInfinity,
            step,
            aim.StandardUncertainty * aim.StandardUncertainty,
            1);
    }
}

/// <summary>One patch of a strip with what was read of it and what was aimed at.</summary>
internal sealed record ReadPatch(LayoutPatch Patch, PatchMean? Mean, MeanUncertainty? Uncertainty, Aim? Aim)
{
    public double? Variance => Uncertainty?.StandardUncertainty * Uncertainty?.StandardUncertainty;

    public double? AimVariance => Aim?.StandardUncertainty * Aim?.StandardUncertainty;
}
