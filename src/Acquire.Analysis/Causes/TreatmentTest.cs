using Acquire.Analysis.Judgement;

namespace Acquire.Analysis.Causes;

/// <summary>What treating a strip again says of a fault.</summary>
public enum TestOutcome
{
    /// <summary>Nothing clear.</summary>
    Open,

    /// <summary>What the fault had done came back.</summary>
    BorneOut,

    /// <summary>It did not come back, so the fault was not there.</summary>
    RuledOut,
}

/// <summary>A fault tested by bleaching, fixing or washing the same strip again and reading it again. Nothing but the treatment and the
/// reading differ between the two records, so run-to-run scatter plays no part. Sizes are in units of the size often met.</summary>
/// <param name="Treatment">What was done.</param>
/// <param name="Before">How large the fault would have been by the first reading.</param>
/// <param name="CameBack">How much of it the treatment took away.</param>
/// <param name="StandardError">Standard error of the latter, by the scatter of reading.</param>
/// <param name="Outcome">What that says.</param>
public sealed record TreatmentTest(
    FaultSignature Fault, Treatment Treatment, double Before, double CameBack, double StandardError, TestOutcome Outcome)
{
    /// <summary>A fault smaller than this share of its usual size is none.</summary>
    private const double Least = 0.2;

    /// <summary>Share of the squares of the change that the fault must explain
    /// to be borne out; another fault came back otherwise.</summary>
    private const double Likeness = 0.7;

    /// <summary>Tests every fault that the treatment mends.</summary>
    /// <param name="first">The strip before.</param>
    /// <param name="again">The same strip after; its treatment says what is tested.</param>
    /// <param name="known">What is known of the reading of each; null for what its record alone tells.</param>
    /// <returns>None when the treatment mends none of the known faults, or the strips have no patch in common.</returns>
    public static ImmutableArray<TreatmentTest> Of(
        StripRecord first, StripRecord again, Func<StripRecord, JudgingGround>? known = null)
    {
        var (one, other) = (Compared(first), Compared(again));
        var treatment = again.Tags.Reread?.After ?? Treatment.None;
        return
        [
            .. FaultSignatures.Of(first.JudgedBy.Key)
                .Where(s => s.IsTestedBy(treatment))
                .Select(s => Of(s, treatment, first, one, other))
                .OfType<TreatmentTest>(),
        ];

        ComparedStrip Compared(StripRecord strip) => new(strip, known?.Invoke(strip) ?? JudgingGround.Of(strip));
    }

    private static TreatmentTest? Of(
        FaultSignature fault, Treatment treatment, StripRecord first, ComparedStrip one, ComparedStrip other)
    {
        var (fit, back, squares, changes) = (0.0, 0.0, 0.0, 0.0);
        foreach (var mean in first.Means)
        {
            var (a, b) = (one.Patch(mean.PatchKey, mean.Channel), other.Patch(mean.PatchKey, mean.Channel));
            if (a is { Value: { } before, Aim: { } aim, Errors: { } error } && b is { Value: { } after, Errors: { } errorAfter })
            {
                // The aim is the same in both, and so is its error: it cancels in the change.
                var weight = 1 / Math.Max(1e-8, error.OfStrip + errorAfter.OfStrip);
                var size = fault.Size(mean.PatchKey, mean.Channel);
                fit += weight * size * (before - aim);
                back += weight * size * (before - after);
                squares += weight * size * size;
                changes += weight * (before - after) * (before - after);
            }
        }

        if (squares == 0)
        {
            return null;
        }

        var (was, cameBack, standardError) = (fit / squares, back / squares, 1 / Math.Sqrt(squares));
        // Of a treatment that mends several faults, only the one whose pattern came back may take the credit.
        var isAlike = changes > 0 && back * back / (squares * changes) >= Likeness;
        var outcome = cameBack > 3 * standardError && cameBack >= Math.Max(Least, 0.4 * was) && isAlike ? TestOutcome.BorneOut
            : cameBack + (2 * standardError) < Math.Max(Least, 0.5 * was) ? TestOutcome.RuledOut
            : TestOutcome.Open;
        return new TreatmentTest(fault, treatment, was, cameBack, standardError, outcome);
    }
}
