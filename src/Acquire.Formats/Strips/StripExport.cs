namespace Acquire.Formats.Strips;

/// <summary>A strip as it is exported: the record, and the parameters that the caller computed of it.</summary>
/// <param name="Parameters">The parameters, in the order of the process sheet.</param>
public sealed record StripExport(StripRecord Strip, ImmutableArray<ExportedParameter> Parameters);

/// <summary>
/// One parameter of a strip in one channel. Numbers are in the parameter's unit, mostly density; one that is not finite is left out.
/// </summary>
/// <param name="Key">Key of the parameter, such as <c>contrast</c>.</param>
/// <param name="Name">The trade's name, such as <c>HD − LD</c>.</param>
/// <param name="Channel">The channel; null for a parameter over all colours, such as a spread.</param>
/// <param name="Value">The strip's value; null when it cannot be computed.</param>
/// <param name="Aim">The aim; null when there is none.</param>
/// <param name="Deviation">Value minus aim; null without one of them.</param>
/// <param name="Uncertainty">Standard uncertainty of the deviation; null when unknown.</param>
/// <param name="Zone">Where the deviation lies; null without limits.</param>
public sealed record ExportedParameter(
    string Key, string Name, Channel? Channel, double? Value, double? Aim, double? Deviation, double? Uncertainty, Zone? Zone)
{
    /// <summary>Why value, aim or zone is missing, in a sentence; null when nothing is.</summary>
    public string? Why { get; init; }

    /// <summary>What the uncertainty rests on that was assumed and not seen, such as <c>repeatability</c>; null for nothing.</summary>
    public string? RestsOnAssumption { get; init; }

    /// <summary>The unit of the numbers, such as <c>density</c>.</summary>
    public string? Unit { get; init; }
}
