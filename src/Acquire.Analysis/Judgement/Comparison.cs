namespace Acquire.Analysis.Judgement;

/// <summary>
/// A value with its aim and what their difference may be wrong by; what is missing is null, and null makes null through the arithmetic.
/// </summary>
internal sealed record Comparison(
    double? Value, double? Aim, ErrorParts? Errors, ImmutableArray<UncertaintyBasis> RestsOn, string? WhyMissing)
{
    /// <summary>
    /// Values and aims are means of decimals. Rounded here, far below any display and any limit, they show no dust of binary arithmetic.
    /// </summary>
    private const int Decimals = 12;

    public static Comparison operator -(Comparison left, Comparison right) => new(
        left.Value - right.Value,
        left.Aim - right.Aim,
        left.Errors - right.Errors,
        left.RestsOn.AddRange(right.RestsOn),
        left.WhyMissing ?? right.WhyMissing);

    public ParameterResult ToResult(Parameter parameter, Channel? channel, CalibrationState? calibration = null)
    {
        var budget = Errors?.ToBudget(calibration);
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
