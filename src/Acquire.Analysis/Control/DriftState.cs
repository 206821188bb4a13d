namespace Acquire.Analysis.Control;

/// <summary>What the detectors remember of one series. One more strip costs the same however long the history is; only an alarm looks back,
/// no farther than the last one and no more than some two hundred strips.</summary>
public sealed record DriftState
{
    /// <summary>What rings is looked into before it is called a movement: a dozen series are watched at once, and each
    /// detector alone rings by chance every few hundred strips.</summary>
    private const double Convincing = 0.005;

    /// <summary>A single strip this far out, in sigmas, is told even when nothing
    /// follows: chance does it once in ten thousand strips.</summary>
    private const double VeryFar = 3.9;

    /// <summary>How many strips back an alarm is looked into: a year of strips at one or two sessions a week each way.</summary>
    private const int LookBack = 200;

    /// <summary>Alarms this close, in strips, and to the same side are one movement that goes on.</summary>
    internal const int Pause = 12;

    private static readonly Ewma Average = new(0, 1, 0.2, 3);
    private static readonly Cusum Sums = Cusum.Usual(0, 1);

    private static readonly ImmutableArray<RunRule> Rules =
        [RunRule.BeyondThreeSigma, RunRule.TwoOfThreeBeyondTwo, RunRule.FourOfFiveBeyondOne, RunRule.NineOnOneSide];

    /// <summary>The values since the last alarm, with their place in the history.</summary>
    private ImmutableList<(int Index, double Value, int Level)> Since { get; init; } = [];

    private RunRuleState Runs { get; init; }

    private RunRuleState Moves { get; init; }

    private EwmaPoint AverageNow { get; init; } = Average.Start;

    private CusumPoint SumsNow { get; init; } = CusumPoint.Start;

    private int Index { get; init; }

    private int LevelNumber { get; init; }

    private string? Lot { get; init; }

    /// <summary>Level and scatter so far.</summary>
    public required SelfStarting Scale { get; init; }

    /// <summary>A state before any strip.</summary>
    /// <param name="leastSigma">What readings alone scatter by; 0 when not known.</param>
    public static DriftState Begin(double leastSigma) => new() { Scale = SelfStarting.Begin(leastSigma) };

    /// <summary>Takes one more deviation.</summary>
    /// <param name="deviation">Deviation from aim.</param>
    /// <param name="lot">Its strip lot: a change of lot is a new level and no drift.</param>
    public (DriftState Next, DriftAlarm? Alarm) Take(double deviation, string lot)
    {
        var state = Lot is null || Keys.Same(Lot, lot) ? this
            : this with { Scale = Scale.NewLevel(), LevelNumber = LevelNumber + 1, Moves = default };
        return (state with { Lot = lot }).Take(deviation);
    }

    private (DriftState Next, DriftAlarm? Alarm) Take(double deviation)
    {
        var (scale, score) = Scale.Take(deviation);
        var next = this with
        {
            Scale = scale,
            Index = Index + 1,
            Since = (Since.Count < LookBack ? Since : Since.RemoveAt(0)).Add((Index, deviation, LevelNumber)),
            Moves = Moves.Next(deviation),
        };
        if (score is not { } z)
        {
            return (next, null);
        }

        // Detectors take the score and not the deviation, so that their published run lengths hold for a young history too.
        next = next with { Runs = Runs.Next(z), AverageNow = Average.Next(AverageNow, z), SumsNow = Sums.Next(SumsNow, z) };
        return next.Kind() is { } kind ? next.Alarm(kind, this, Math.Abs(z) > VeryFar) : (next, next.Notice());
    }

    /// <summary>The detector that rings; sums and averages before runs, as they say more.</summary>
    private (DetectorKind Kind, Side Side)? Kind() =>
        Runs.Breaks(RunRule.BeyondThreeSigma) ? (DetectorKind.FarPoint, Runs.SideOf(RunRule.BeyondThreeSigma))
        : SumsNow.Signal != Side.Neither ? (DetectorKind.Sums, SumsNow.Signal)
        : AverageNow.Signal != Side.Neither ? (DetectorKind.MovingAverage, AverageNow.Signal)
        : Runs.Breaks(RunRule.SixSteady) ? (DetectorKind.Trend, Runs.SideOf(RunRule.SixSteady))
        : Rules.FirstOrDefault(r => r != RunRule.BeyondThreeSigma && Runs.Breaks(r), (RunRule)(-1)) is var rule
            and not (RunRule)(-1) ? (DetectorKind.Run, Runs.SideOf(rule))
        : null;

    /// <summary>The trade's notice: three moves one way (four strips), that end farther from the aim than they began.</summary>
    private DriftAlarm? Notice()
    {
        if (Since.Count < 4 || Since[^4].Level != LevelNumber)
        {
            return null;
        }

        var (a, b, c, d) = (Since[^4].Value, Since[^3].Value, Since[^2].Value, Since[^1].Value);
        var side = a < b && b < c && c < d ? Side.High : a > b && b > c && c > d ? Side.Low : Side.Neither;
        return side != Side.Neither && Math.Abs(d) > Math.Abs(a) && Math.Sign(d) == (int)side
            ? new DriftAlarm(
                DetectorKind.ThreeMoves, side, Since[^1].Index, Since[^4].Index, Since[^4].Index, Since[^4].Index, a, d, null)
            {
                IsNotice = true,
            }
            : null;
    }

    /// <summary>Looks back for the beginning. A movement that convinces begins a new level
    /// there; anything else is a notice and changes nothing.</summary>
    /// <param name="ring">What rang.</param>
    /// <param name="undisturbed">The state before the strip that made it ring.</param>
    /// <param name="isVeryFar">Whether the strip by itself lies very far out.</param>
    private (DriftState Next, DriftAlarm? Alarm) Alarm((DetectorKind Kind, Side Side) ring, DriftState undisturbed, bool isVeryFar)
    {
        // Levels of different lots are not comparable: only the present one is looked into.
        var present = Since.Where(s => s.Level == LevelNumber).ToImmutableArray();
        var last = present.Length - 1;
        if (ChangePoint.Of([.. present.Select(s => s.Value)]) is { } change && (int)ring.Side * change.Step > 0 && change.P < Convincing
            && !(ring.Kind == DetectorKind.FarPoint && change.Index == last))
        {
            // The new level starts with the strips after the step; detectors start empty, or the old level would ring on.
            var kept = present[change.Index..];
            var alarm = new DriftAlarm(
                ring.Kind, ring.Side, present[^1].Index, kept[0].Index, present[change.Earliest].Index,
                present[change.Latest].Index, change.Before, change.After, change.P);
            return (
                this with
                {
                    Since = [.. kept],
                    Runs = default,
                    AverageNow = Average.Start,
                    SumsNow = CusumPoint.Start,
                    Moves = default,
                    Scale = Scale.Level([.. kept.Select(k => k.Value)]),
                },
                alarm);
        }

        var before = last > 0 ? present[..^1].Average(s => s.Value) : Scale.Mean;
        var (at, value) = (present[^1].Index, present[^1].Value);
        var lone = new DriftAlarm(ring.Kind, ring.Side, at, at, at, at, before, value, null)
        {
            IsNotice = !isVeryFar || ring.Kind != DetectorKind.FarPoint,
        };

        // One strip far out is not yet a fact: it moves no level, and the next strip tells.
        return ring.Kind == DetectorKind.FarPoint
            ? (this with {
                Scale = undisturbed.Scale,
                Runs = undisturbed.Runs,
                AverageNow = undisturbed.AverageNow,
                SumsNow = undisturbed.SumsNow }, lone)
            : (this, lone);
    }
}
