namespace Acquire.Analysis.Control;

/// <summary>What the shape of a movement is.</summary>
public enum DriftShape
{
    /// <summary>From one strip to the next: look for something sudden.</summary>
    Jump,

    /// <summary>Little by little: look for what wears, ages or runs out.</summary>
    Gradual,

    /// <summary>It moved, but the strips do not tell whether at once or little by little.</summary>
    Open,

    /// <summary>One strip very far out: most likely the strip or its reading, unless the next confirms it.</summary>
    SingleStrip,

    /// <summary>No movement is told, but the next strip is worth watching.</summary>
    Notice,
}

/// <summary>A parameter that moved, in one channel or in several that moved as one.</summary>
public sealed record DriftFinding
{
    public required string ParameterKey { get; init; }

    /// <summary>The channels that moved together; empty for a spread.</summary>
    public required ImmutableArray<Channel> Channels { get; init; }

    /// <summary>Which way.</summary>
    public required Side Side { get; init; }

    /// <summary>In what way.</summary>
    public required DriftShape Shape { get; init; }

    /// <summary>The strip at which it most probably began.</summary>
    public required Guid BeganAtStrip { get; init; }

    /// <summary>When that strip was processed.</summary>
    public required DateTimeOffset Began { get; init; }

    /// <summary>The earliest time at which it may have begun (95 %).</summary>
    public required DateTimeOffset Earliest { get; init; }

    public required DateTimeOffset Latest { get; init; }

    /// <summary>When it was noticed.</summary>
    public required DateTimeOffset Noticed { get; init; }

    /// <summary>How far it moved, the mean of the channels.</summary>
    public required double Step { get; init; }

    /// <summary>What noticed it, in each channel.</summary>
    public required ImmutableArray<DetectorKind> Detectors { get; init; }

    /// <summary>Whether nothing has moved the parameter since.</summary>
    public required bool IsLatest { get; init; }

    /// <summary>It in one plain sentence.</summary>
    public required string Sentence { get; init; }

    /// <summary>Whether it is a notice only.</summary>
    public bool IsNotice => Shape == DriftShape.Notice;
}

/// <summary>Something was seen in a series. Indices count strips of the series from 0.</summary>
/// <param name="Detector">What noticed it.</param>
/// <param name="Side">Which way it moved.</param>
/// <param name="At">The strip at which it was noticed.</param>
/// <param name="Began">The strip at which it most probably began.</param>
/// <param name="Earliest">The earliest strip at which it may have begun (95 %).</param>
/// <param name="Before">Level before, as a deviation.</param>
/// <param name="After">Level at the strip at which it was noticed.</param>
/// <param name="Weight">How much it means.</param>
internal sealed record DriftAlarm(
    DetectorKind Detector, Side Side, int At, int Began, int Earliest, int Latest, double Before, double After, DriftWeight Weight)
{
    /// <summary>What the other series said of the memory, as log weights; empty where it was not asked.</summary>
    public ImmutableArray<double> Memory { get; init; } = [];
}

/// <summary>How much something that was seen means.</summary>
internal enum DriftWeight
{
    /// <summary>Watch the next strip: chance brings it about now and then.</summary>
    Notice,

    /// <summary>One strip so far out that chance hardly does it.</summary>
    Strip,

    /// <summary>The level moved.</summary>
    Movement,
}

/// <summary>What noticed that a series moved.</summary>
public enum DetectorKind
{
    /// <summary>One strip far from the others (beyond 3 sigma).</summary>
    FarPoint,

    /// <summary>A run rule: too many strips on one side.</summary>
    Run,

    /// <summary>Six strips rising or falling steadily.</summary>
    Trend,

    /// <summary>The exponentially weighted moving average.</summary>
    MovingAverage,

    /// <summary>The cumulative sums.</summary>
    Sums,

    /// <summary>Three successive moves away from the aim: the trade's early notice (training manuals). It comes about by chance in one of
    /// twenty-four sets of four strips on either side, so it is a notice and no alarm.</summary>
    ThreeMoves,
}
