using Acquire.Bench.Sessions;
using Acquire.Bench.Trust;

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
