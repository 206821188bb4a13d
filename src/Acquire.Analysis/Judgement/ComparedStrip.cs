using Acquire.Analysis.Uncertainty;

namespace Acquire.Analysis.Judgement;

/// <summary>The patches of one strip, each compared with its aim.</summary>
internal sealed class ComparedStrip(StripRecord record, JudgingGround ground)
{
    public Comparison Patch(string patchKey, Channel channel)
    {
        var (mean, aim, uncertainty) = Read(patchKey, channel);
        return new Comparison(
            mean?.Mean, aim?.Value, uncertainty is null || aim is null ? null : Errors(mean!, uncertainty, aim),
            uncertainty is null ? [] : [uncertainty.Basis],
            mean is null ? WhyNoMean(patchKey, channel) : aim is null ? WhyNoAim(patchKey, channel) : null);
    }

    /// <summary>Mean and aim of a patch, for what is taken of many patches at once.</summary>
    public ReadPatch Read(LayoutPatch patch, Channel channel)
    {
        var (mean, aim, uncertainty) = Read(patch.Patch.Key, channel);
        return new ReadPatch(
            patch, mean, aim, uncertainty is null
                ? null
                : mean is null || aim is null ? ReadAlone(channel, uncertainty) : Errors(mean, uncertainty, aim),
            uncertainty?.Basis);
    }

    /// <summary>Whether the layout of the strip has a patch.</summary>
    public bool Has(string patchKey) => record.Layout.Patches.Any(p => Keys.Same(p.Key, patchKey));

    public string WhyNoAim(string patchKey, Channel channel) =>
        $"Lot {record.LotCode} had no aim for {record.Layout.Find(patchKey)?.Name ?? patchKey} in {channel.Word()}.";

    private string WhyNoMean(string patchKey, Channel channel)
    {
        var patch = record.Patches.FirstOrDefault(p => Keys.Same(p.Patch.Key, patchKey));
        return patch switch
        {
            null => $"The strip layout '{record.Layout.Name}' has no patch '{patchKey}'.",
            { LeftOut: { } leftOut } => $"{patch.Patch.Name} was left out: {leftOut.Reason}.",
            { Reads.IsEmpty: true } => $"{patch.Patch.Name} was not read.",
            _ when !patch.Accepted.Any() => $"No read of {patch.Patch.Name} counts.",
            _ => $"{patch.Patch.Name} was not read in {channel.Word()}.",
        };
    }

    private (PatchMean? Mean, Aim? Aim, MeanUncertainty? Uncertainty) Read(string patchKey, Channel channel)
    {
        var mean = record.Mean(patchKey, channel);
        return (mean,
            record.Aim(patchKey, channel),
            mean is null ? null : MeanUncertainty.Of(mean, ground.Instrument.At(channel, mean.Mean).For(mean)));
    }

    private ErrorParts Errors(PatchMean mean, MeanUncertainty uncertainty, Aim aim) =>
        ReadAlone(mean.Channel, uncertainty) with { Reference = ground.OfAim(aim, mean) };

    // The step is kept apart from the scatter: more reads bring down the one and not the other.
    private ErrorParts ReadAlone(Channel channel, MeanUncertainty uncertainty) => new(
        new ErrorPart(
            uncertainty.Basis.ReadVariance, uncertainty.Basis.Scatter.DegreesOfFreedom, ground.Instrument.EstimateOf(channel),
            uncertainty.Basis.Scatter.IsAssumed),
        uncertainty.Basis.StepVariance, default, 1, uncertainty.Basis.LeastVariance);
}

/// <summary>One patch of a strip with what was read of it and what was aimed at.</summary>
/// <param name="Errors">Null without a mean; without an aim those of reading alone.</param>
internal sealed record ReadPatch(LayoutPatch Patch, PatchMean? Mean, Aim? Aim, ErrorParts? Errors, UncertaintyBasis? Basis);

/// <summary>A value with its aim and what their difference may be wrong by; what is missing
/// is null, and null makes null through the arithmetic.</summary>
internal sealed record Comparison(
    double? Value, double? Aim, ErrorParts? Errors, ImmutableArray<UncertaintyBasis> RestsOn, string? WhyMissing)
{
    /// <summary>Values and aims are means of decimals. Rounded here, far below any display and
    /// any limit, they show no dust of binary arithmetic.</summary>
    private const int Decimals = 12;

    public static Comparison operator -(Comparison left, Comparison right) => new(
        left.Value - right.Value, left.Aim - right.Aim, left.Errors - right.Errors, left.RestsOn.AddRange(right.RestsOn),
        left.WhyMissing ?? right.WhyMissing);

    /// <param name="zero">How far the zero may have moved; null for a spread, of which it is no part.</param>
    public ParameterResult ToResult(Parameter parameter, Channel? channel, ZeroBetween? zero = null)
    {
        var budget = Errors?.ToBudget(zero);
        // Zones are by the plain number, as the trade draws its limits; the uncertainty speaks in the verdict beside them.
        var deviation = Clean(Value - Aim);
        var zone = deviation is { } d ? parameter.LimitsIn(channel).ZoneOf(d) : null;
        return new ParameterResult
        {
            Parameter = parameter,
            Channel = channel,
            Value = Clean(Value),
            Aim = Clean(Aim),
            Deviation = deviation,
            StandardUncertainty = budget?.StandardUncertainty,
            ReadingUncertainty = Errors is { } errors ? Math.Sqrt(errors.Reading.Variance + errors.Step) : null,
            LeastReadingUncertainty = Errors is { } least ? Math.Sqrt(least.Least) : null,
            ZeroUncertainty = Errors is { } e ? Math.Abs(e.ZeroShare) * (zero?.OfStrip ?? 0) : null,
            AimUncertainty = Errors is { } parts
                ? Math.Sqrt(parts.Reference.Variance + Math.Pow(parts.ZeroShare * (zero?.OfReference ?? 0), 2)) : null,
            Budget = budget,
            Zone = zone,
            WhyMissing = WhyMissing ?? (zone is null ? WhyNoZone(parameter, channel) : null),
            RestsOn = RestsOn,
        };
    }

    private static string WhyNoZone(Parameter parameter, Channel? channel) => channel is { } c && parameter.HasLimits
        ? $"No limits are set for {parameter.Name} in {c.Word()}."
        : $"No limits are set for {parameter.Name}.";

    // Adding 0 turns a negative zero into a plain one.
    public static double Clean(double value) => Math.Round(value, Decimals) + 0.0;

    private static double? Clean(double? value) => value is { } v ? Clean(v) : null;
}
