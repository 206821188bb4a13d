namespace Acquire.Analysis.Control;

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

    /// <summary>
    /// Three successive moves away from the aim: the trade's early notice (training manuals). It comes about by chance in one of
    /// twenty-four sets of four strips on either side, so it is a notice and no alarm.
    /// </summary>
    ThreeMoves,
}
