using Acquire.Analysis.Control;

namespace Acquire.Analysis.Charts;

/// <summary>One parameter, as a strip of chart across the page.</summary>
/// <param name="Parameter">The parameter, as the newest sheet states it.</param>
/// <param name="Range">
/// From which deviation to which it goes; it holds 0, every limit, natural limit and deviation; whiskers of poor readings may reach beyond.
/// </param>
/// <param name="Limits">The limits in force, each from where to where on the axis.</param>
/// <param name="Lines">A line for each channel, in the order in which channels are listed.</param>
/// <param name="Findings">What was found to have moved, numbered over the whole chart.</param>
public sealed record ChartPanel(
    Parameter Parameter,
    ChartRange Range,
    ImmutableArray<ChartLimit> Limits,
    ImmutableArray<ChartLine> Lines,
    ImmutableArray<FindingMark> Findings)
{
    /// <summary>
    /// From where to where the natural limits of a line go; those of a spread not below 0, where no spread can be. Null when it has none.
    /// </summary>
    public static (double Lower, double Upper)? NaturalOf(Parameter parameter, ChartLine line) => line.Natural is { } natural
        ? (parameter.HasSign ? natural.Lower : Math.Max(0, natural.Lower), natural.Upper)
        : null;

    /// <summary>The same of one of its own lines.</summary>
    public (double Lower, double Upper)? NaturalOf(ChartLine line) => NaturalOf(Parameter, line);
}

/// <summary>Which limit a line is.</summary>
public enum ChartLimitKind
{
    /// <summary>Past it: look for the cause.</summary>
    Action,

    /// <summary>Past it: stop.</summary>
    Control,
}

/// <summary>One side of a limit as a line on a chart.</summary>
/// <param name="Kind">Which limit.</param>
/// <param name="Value">The deviation it lies at.</param>
/// <param name="From">Where on the axis it begins.</param>
/// <param name="To">Where it ends.</param>
/// <param name="Source">Where its number comes from.</param>
/// <param name="Channels">The channels that it holds in; none where it holds in all lines of its panel.</param>
public sealed record ChartLimit(ChartLimitKind Kind, double Value, double From, double To, string Source, ImmutableArray<Channel> Channels);

/// <summary>A movement with its place.</summary>
/// <param name="X">The strip at which it most probably began.</param>
/// <param name="Number">Its number on this chart, from 1.</param>
/// <param name="Finding">What moved.</param>
public sealed record FindingMark(double X, int Number, DriftFinding Finding);
