namespace Acquire.Analysis.Control;

/// <summary>What the shape of a movement is.</summary>
public enum DriftShape
{
    /// <summary>From one strip to the next: look for something sudden.</summary>
    Jump,

    /// <summary>Little by little: look for what wears, ages or runs out.</summary>
    Gradual,

    /// <summary>One strip very far out: most likely the strip or its reading, unless the next confirms it.</summary>
    SingleStrip,

    /// <summary>A rule rang, but a closer look does not yet bear it out: watch the next strip.</summary>
    Notice,
}

/// <summary>A parameter that moved, in one channel or in several that moved as one.</summary>
public sealed record DriftFinding
{
    /// <summary>The parameter.</summary>
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

    /// <summary>The latest.</summary>
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
