namespace Acquire.Analysis.Control;

/// <summary>What the detectors remember of one series. They say when to look closer and decide nothing; one more strip costs
/// the same however long the history is.</summary>
internal sealed record DriftState
{
    private static readonly Ewma Average = new(0, 1, 0.2, 3);
    private static readonly Cusum Sums = Cusum.Usual(0, 1);

    private static readonly ImmutableArray<RunRule> Rules =
        [RunRule.TwoOfThreeBeyondTwo, RunRule.FourOfFiveBeyondOne, RunRule.NineOnOneSide];

    private RunRuleState Runs { get; init; }

    private EwmaPoint AverageNow { get; init; } = Average.Start;

    private CusumPoint SumsNow { get; init; } = CusumPoint.Start;

    /// <summary>Level and scatter so far.</summary>
    public required SelfStarting Scale { get; init; }

    /// <summary>A state before any strip.</summary>
    /// <param name="leastSigma">What readings alone scatter by; 0 when not known.</param>
    public static DriftState Begin(double leastSigma) => new() { Scale = SelfStarting.Begin(leastSigma) };

    /// <summary>Takes one more deviation.</summary>
    /// <returns>The state after it, and what rings; null for nothing.</returns>
    public (DriftState Next, DriftRing? Ring) Take(double deviation)
    {
        var (scale, score) = Scale.Take(deviation);
        var next = this with { Scale = scale };
        if (score is not { } z)
        {
            return (next, null);
        }

        // Detectors take the score and not the deviation, so that their published run lengths hold for a young history too.
        next = next with { Runs = Runs.Next(z), AverageNow = Average.Next(AverageNow, z), SumsNow = Sums.Next(SumsNow, z) };
        var ring = next.Rings();
        // One strip far out is not yet a fact: it moves no level, and the next strip tells.
        return (ring?.Kind == DetectorKind.FarPoint ? next with { Scale = Scale, AverageNow = AverageNow, SumsNow = SumsNow } : next, ring);
    }

    /// <summary>Begins a level that is not comparable with the one before, as at a change of lot; the scatter stays.</summary>
    public DriftState NewLevel() => this with { Scale = Scale.NewLevel() };

    /// <summary>Begins again after a movement; detectors start empty, or the old level would ring on.</summary>
    /// <param name="values">The values since it began.</param>
    public DriftState Level(ImmutableArray<double> values) => new() { Scale = Scale.Level(values) };

    /// <summary>What rings; sums and averages before runs, as they say more.</summary>
    private DriftRing? Rings() =>
        Runs.Breaks(RunRule.BeyondThreeSigma) ? new(DetectorKind.FarPoint, Runs.SideOf(RunRule.BeyondThreeSigma))
        : SumsNow.Signal != Side.Neither ? new(DetectorKind.Sums, SumsNow.Signal)
        : AverageNow.Signal != Side.Neither ? new(DetectorKind.MovingAverage, AverageNow.Signal)
        : Runs.Breaks(RunRule.SixSteady) ? new(DetectorKind.Trend, Runs.SideOf(RunRule.SixSteady))
        : Rules.FirstOrDefault(r => Runs.Breaks(r), (RunRule)(-1)) is var rule and not (RunRule)(-1)
            ? new(DetectorKind.Run, Runs.SideOf(rule))
        : null;
}

/// <summary>A detector that rings.</summary>
/// <param name="Side">Which way it points.</param>
internal sealed record DriftRing(DetectorKind Kind, Side Side);
