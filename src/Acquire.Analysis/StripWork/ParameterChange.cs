using Acquire.Analysis.Gauge;
using Acquire.Analysis.Judgement;

namespace Acquire.Analysis.StripWork;

/// <summary>One parameter in one channel on two strips, or on one strip twice. All numbers are densities.</summary>
/// <param name="First">On the first.</param>
/// <param name="Second">On the second.</param>
/// <param name="Change">Second minus first; null when one of them is missing.</param>
/// <param name="StandardUncertainty">Standard uncertainty of the change, by what is known of both readings. What both share cancels
/// and is not in it: the aim, where it is the same, and in a difference of two patches an error of the instrument's zero. What differs
/// between two strips of one process is not in it either.</param>
public sealed record ParameterChange(ParameterResult First, ParameterResult Second, double? Change, double? StandardUncertainty)
{
    /// <summary>How many standard uncertainties a change must have before it is more than reading explains, at 95 %: Student's t of what
    /// the uncertainty rests on (GUM, JCGM 100:2008, G.4.2).</summary>
    public double Coverage { get; init; } = 2;

    /// <summary>Whether the change is more than reading explains; null when it is not known.</summary>
    public bool? IsReal => Change is { } change && StandardUncertainty is { } u ? Math.Abs(change) > Coverage * u : null;

    /// <summary>Whether the first lay past a limit.</summary>
    public bool WasOutside => First.Zone is Zone.Action or Zone.Out;

    /// <summary>Whether the second lies past a limit.</summary>
    public bool IsOutside => Second.Zone is Zone.Action or Zone.Out;

    /// <summary>Compares two records parameter by parameter, by the first one's process sheet. Records of one lot are compared density by
    /// density; of two lots, deviation by deviation, with the uncertainty of both aims.</summary>
    /// <param name="known">What is known when a strip is judged; null to go by the records alone.</param>
    /// <exception cref="ImpossibleValueException">The strips have different patches.</exception>
    public static ImmutableArray<ParameterChange> Between(
        StripRecord first, StripRecord second, Func<StripRecord, JudgingGround>? known = null)
    {
        var before = StripJudge.Judge(first, known?.Invoke(first)).Results;
        var after = StripJudge.Judge(With(second, first.JudgedBy, second.Aims), known?.Invoke(second)).Results;
        if (!Keys.Same(first.LotCode, second.LotCode))
        {
            return [.. before.Zip(
                after, (b, a) => new ParameterChange(b, a, a.Deviation - b.Deviation, Root(a.StandardUncertainty, b.StandardUncertainty))
                {
                    Coverage = Math.Max(b.Budget?.CoverageFactor() ?? 0, a.Budget?.CoverageFactor() ?? 0),
                })];
        }

        // Aims made of the first strip turn the judge into the comparison that is wanted: what it takes for a deviation is the change.
        var changes = StripJudge.Judge(With(second, first.JudgedBy, AimsMadeOf(first)), GroundOf(first, second, known)).Results;
        return [.. before.Zip(after, changes).Select(t => t.First.Parameter.HasSign
            ? new ParameterChange(t.First, t.Second, t.Third.Deviation, t.Third.StandardUncertainty)
            {
                Coverage = t.Third.Budget?.CoverageFactor() ?? 2,
            }
            : new ParameterChange(t.First, t.Second, t.Second.Deviation - t.First.Deviation, null))];
    }

    /// <summary>What is known when the first strip serves as the aim of the second. By the records alone, the repeats of both tell of one
    /// instrument, where one has read both.</summary>
    private static JudgingGround GroundOf(StripRecord first, StripRecord second, Func<StripRecord, JudgingGround>? known)
    {
        var (one, other) = (known?.Invoke(first) ?? JudgingGround.Of(first), known?.Invoke(second) ?? JudgingGround.Of(second));
        var isOne = Keys.Same(first.Provenance.Instrument?.Name, second.Provenance.Instrument?.Name);
        var (read, again) = known is null && isOne
            ? (one.Instrument.With(PatchRepeats.Of(second.Means)), other.Instrument.With(PatchRepeats.Of(first.Means)))
            : (one.Instrument, other.Instrument);
        var zero = isOne && (ZeroKnowledge.IsOneSitting(first.Provenance.At, second.Provenance.At)
                || (first.CheckId is { } check && check == second.CheckId))
            ? ZeroBetween.None
            : ZeroBetween.OfSittings(other.Setting, one.Setting);
        return other with { Instrument = again, Aims = AimKnowledge.Of(first.Means, read), Zero = zero };
    }

    private static ImmutableArray<Aim> AimsMadeOf(StripRecord strip) =>
        [.. strip.Means.Select(m => new Aim(m.PatchKey, m.Channel, m.Mean, 0, 0))];

    private static StripRecord With(StripRecord strip, ProcessSheet sheet, ImmutableArray<Aim> aims) => new(
        strip.Id, strip.LotCode, strip.Layout, sheet, strip.Patches, strip.Means, aims, strip.Provenance, strip.Revision)
    {
        Repeatability = strip.Repeatability,
    };

    private static double? Root(double? a, double? b) => a is { } x && b is { } y ? Math.Sqrt((x * x) + (y * y)) : null;
}
