using Acquire.Analysis.Gauge;
using Acquire.Bench.Sessions;
using Acquire.Bench.Trust;
using Acquire.Instruments.ProfileFiles;

namespace Acquire.Bench.Readings;

/// <summary>A calibration check that is to be read: every patch of a plaque.</summary>
public sealed record CheckRequest(string Plaque);

internal sealed class CheckReading(CheckBook book) : ReadingPurpose<CheckRequest, JudgedCheck>
{
    public override SessionPurpose Purpose => SessionPurpose.Check;

    public override SessionKind Kind => SessionKind.CalibrationCheck;

    public override async Task<PlannedReading> PlanAsync(
        CheckRequest request, ReadingTerms terms, Action<string> tell, CancellationToken cancellationToken)
    {
        var plaque = await book.GetPlaqueAsync(request.Plaque, cancellationToken);
        return new PlannedReading(terms.PlanFor(Purpose, plaque.Layout, plaque.Channels), plaque.Name);
    }

    protected override async Task<Func<StoreTransaction, JudgedCheck>> KeepAsync(OpenSession session, ImmutableArray<PatchReads> patches)
    {
        var begun = session.Session;
        var plaque = await book.GetPlaqueAsync(begun.PlaqueName!, CancellationToken.None);
        var judged = await book.JudgeAsync(plaque, patches, begun.Provenance, begun.Id, CancellationToken.None);
        return writing =>
        {
            writing.AddCheck(judged.Check);
            return judged;
        };
    }
}

/// <summary>A repeatability test that is to be read, in the channels that the instrument sends with every reading.</summary>
/// <param name="Patches">The patches, any the user has.</param>
/// <param name="ReadsPerPlacement">How many reads follow each other without moving the patch; divides the number of reads.</param>
/// <param name="Specification">The largest standard deviation that passes, in density.</param>
public sealed record RepeatabilityRequest(StripLayout Patches, int ReadsPerPlacement, double Specification);

internal sealed class RepeatabilityReading(RepeatabilityEntry tests) : ReadingPurpose<RepeatabilityRequest, KeptTest>
{
    public override SessionPurpose Purpose => SessionPurpose.Repeatability;

    public override SessionKind Kind => SessionKind.Repeatability;

    /// <exception cref="GaugeException">The specification is not above 0.</exception>
    public override Task<PlannedReading> PlanAsync(
        RepeatabilityRequest request, ReadingTerms terms, Action<string> tell, CancellationToken cancellationToken)
    {
        if (terms.ReadsPerPatch < 2)
        {
            throw new BenchException("A repeatability test needs two reads of each patch at least, better ten.");
        }

        _ = RepeatabilitySpecification.Same(request.Specification);
        var plan = terms.PlanFor(Purpose, request.Patches, ReadingChannels.Always(terms.Instrument.Profile), request.ReadsPerPlacement);
        return Task.FromResult(new PlannedReading(plan with { Specification = request.Specification }, ""));
    }

    protected override async Task<Func<StoreTransaction, KeptTest>> KeepAsync(OpenSession session, ImmutableArray<PatchReads> patches)
    {
        var (begun, plan) = (session.Session, session.Plan);
        var judged = await tests.JudgeAsync(
            patches, plan.ReadsPerPlacement, plan.Specification!.Value, begun.Provenance, begun.Id, CancellationToken.None);
        return writing =>
        {
            writing.AddRepeatabilityTest(judged.Test);
            return judged;
        };
    }
}
