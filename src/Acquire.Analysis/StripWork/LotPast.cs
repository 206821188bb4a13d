using Acquire.Analysis.Gauge;
using Acquire.Analysis.Judgement;

namespace Acquire.Analysis.StripWork;

/// <summary>The aims of a lot at a moment, with what made them.</summary>
/// <param name="Reference">The reference whose readings make them; null where the lot has none, and then there are no aims.</param>
/// <param name="Adjustment">The accepted crossover that moves them; null without one.</param>
/// <param name="Repeatability">The test of the instrument that the reference was read with; null without one.</param>
public sealed record AimsInForce(
    LotReference? Reference, AimAdjustment? Adjustment, RepeatabilityInForce? Repeatability, ImmutableArray<Aim> Aims)
{
    /// <summary>Those of a lot that has no reference yet.</summary>
    public static AimsInForce None { get; } = new(null, null, null, []);
}

/// <summary>All that ever made aims of one lot. Reading, import, correction and show ask it the same question, so that a
/// strip has the aims of its day whichever way it came.</summary>
/// <param name="references">Its references with all their revisions, in the order in which they were entered.</param>
/// <param name="adjustments">The crossovers that were accepted for it, in order.</param>
/// <param name="tests">The repeatability tests of all instruments.</param>
/// <param name="assumptions">What is taken for granted where nothing is known; null for the usual.</param>
public sealed class LotPast(
    StripLot lot, IReadOnlyList<LotReference> references, IReadOnlyList<AimAdjustment> adjustments, TestsInForce tests,
    Assumptions? assumptions = null)
{
    // An import asks for thousands of strips, and a lot has a handful of answers.
    private readonly Dictionary<(Guid Reference, int Revision, Guid? Adjustment, Guid? Test), AimsInForce> _made = [];

    public StripLot Lot => lot;

    /// <summary>The aims as they stand, whatever the clock said when they were made.</summary>
    public AimsInForce Newest => At(DateTimeOffset.MaxValue);

    /// <summary>The aims in force at a moment: by the reference, the crossover and the test of then. Where the lot had no reference yet, it
    /// is the first one after, for an old strip is better judged by it than by nothing.</summary>
    public AimsInForce At(DateTimeOffset moment) =>
        (references.LastOrDefault(r => r.Revision.At <= moment) ?? (references.Count > 0 ? references[0] : null)) is { } reference
            ? By(reference, moment)
            : AimsInForce.None;

    /// <summary>The aims at a moment by the reference that was settled on then.</summary>
    /// <exception cref="ImpossibleValueException">The lot has no such revision of a reference.</exception>
    public AimsInForce At(DateTimeOffset moment, (Guid Id, int Revision) settled) => By(
        references.FirstOrDefault(r => r.Id == settled.Id && r.Revision.Number == settled.Revision)
            ?? throw new ImpossibleValueException($"Lot {lot.Code} has no reference {settled.Id} of revision {settled.Revision}."),
        moment);

    private AimsInForce By(LotReference reference, DateTimeOffset moment)
    {
        var adjustment = adjustments.LastOrDefault(a => a.ReferenceId == reference.Id && a.At <= moment);
        // For a strip from before the reference, the test counts that was in force when the reference was entered.
        var known = moment < reference.Revision.At ? reference.Revision.At : moment;
        var test = reference.InstrumentName is { } used ? tests.Until(known, used) : null;
        var key = (reference.Id, reference.Revision.Number, adjustment?.Id, test?.TestId);
        if (!_made.TryGetValue(key, out var made))
        {
            _made[key] = made = new AimsInForce(reference, adjustment, test, Aims.Of(lot, reference, test, adjustment, assumptions));
        }

        return made;
    }
}
