using Acquire.Analysis.Statistics;
using Acquire.Analysis.Uncertainty;

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
            mean?.Mean, aim?.Value, uncertainty is null || aim is null ? null : Errors(uncertainty, aim),
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

    private static ErrorParts Errors(MeanUncertainty uncertainty, Aim aim)
    {
        var basis = uncertainty.Basis;
        // The step is kept apart from the scatter: more reads bring down the one and not the other.
        var step = basis.ResolutionAdded ? basis.Resolution * basis.Resolution / 12 : 0;
        return new ErrorParts(
            Math.Max(0, (uncertainty.StandardUncertainty * uncertainty.StandardUncertainty) - step),
            basis.Repeatability?.DegreesOfFreedom ?? double.PositiveInfinity, step,
            aim.StandardUncertainty * aim.StandardUncertainty, 1);
    }
}

/// <summary>One patch of a strip with what was read of it and what was aimed at.</summary>
internal sealed record ReadPatch(LayoutPatch Patch, PatchMean? Mean, MeanUncertainty? Uncertainty, Aim? Aim)
{
    public double? Variance => Uncertainty?.StandardUncertainty * Uncertainty?.StandardUncertainty;

    public double? AimVariance => Aim?.StandardUncertainty * Aim?.StandardUncertainty;
}

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

    public ParameterResult ToResult(Parameter parameter, Channel? channel, CalibrationState? calibration = null)
    {
        var budget = Errors?.ToBudget(calibration);
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
            ReadingUncertainty = Errors is { } errors ? Math.Sqrt(errors.Reading + errors.Step) : null,
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

/// <summary>What a deviation may be wrong by, cause by cause. Variances are in the square of its unit.</summary>
/// <param name="Reading">Of re-placed reads; goes down with their number.</param>
/// <param name="ReadingFreedom">Degrees of freedom that the repeatability is known with; infinite when nothing is known of it.</param>
/// <param name="Step">Of the display's last digit, where reads do not scatter across it.</param>
/// <param name="FromReference">Of the reference strip's reading: the same for every strip of the lot.</param>
/// <param name="ZeroShare">How much of a common error of zero the deviation has: 1 for
/// a patch, 0 for a difference of two, which cancels it.</param>
internal readonly record struct ErrorParts(double Reading, double ReadingFreedom, double Step, double FromReference, double ZeroShare)
{
    public const string Zero = "zero between calibrations";
    public const string Reference = "reading of the reference strip";
    public const string Reads = "re-placed reads";

    public double Variance => Reading + Step + FromReference;

    /// <summary>Both errors together, of what is taken away from each other. The same
    /// repeatability is behind both, so its freedom stays.</summary>
    public static ErrorParts operator -(ErrorParts left, ErrorParts right) => new(
        left.Reading + right.Reading, Math.Min(left.ReadingFreedom, right.ReadingFreedom), left.Step + right.Step,
        left.FromReference + right.FromReference, left.ZeroShare - right.ZeroShare);

    /// <summary>The budget of the deviation.</summary>
    /// <param name="calibration">What zero may have moved by between reference and strip; null when nothing is known of it.</param>
    public Budget ToBudget(CalibrationState? calibration)
    {
        var zero = calibration is { IsShared: false } ? ZeroShare * calibration.Tolerance / Math.Sqrt(3) : 0;
        return new Budget(
        [
            new Component(Reads, Math.Sqrt(Reading), ReadingFreedom),
            new Component("display step", Math.Sqrt(Step)),
            new Component(Reference, Math.Sqrt(FromReference)),
            .. calibration is null ? [] : (Component[])[new Component(Zero, zero)],
        ]);
    }
}
