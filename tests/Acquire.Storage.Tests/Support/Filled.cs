using Acquire.Storage.Import;

namespace Acquire.Storage.Tests.Support;

/// <summary>A store that has something of everything.</summary>
internal static class Filled
{
    /// <summary>A row in every table.</summary>
    public static async Task FillAsync(AcquireStore store, CancellationToken token)
    {
        await store.AddInstrumentAsync(Some.Bench, token);
        await store.AddInstrumentAsync(Some.Bench with { Revision = Some.Bench.Revision.Next("staff", Some.Evening, "cleaned") }, token);
        await store.AddLotAsync(Some.Lot, token);
        var session = Some.Session();
        await store.BeginSessionAsync(session, Some.SessionPlan(), token);
        await store.AppendAsync(session.Id, [Some.Chunk(1)], [Some.Line(1, "???", Domain.Sessions.LineMeaning.Unmatched)], token);
        await store.EndSessionAsync(session.Id, new(Domain.Sessions.SessionOutcome.Completed, Some.Evening, "done"), token);
        var reference = Some.Reference() with { Origin = Domain.Lots.ReferenceOrigin.Read(3, "labelled-channels", "bench") };
        await store.AddReferenceAsync(reference, token);
        var strip = Some.Strip();
        await store.AddStripAsync(strip with { ReferenceId = reference.Id }, token);
        await store.AddStripAsync(Some.Strip(strip.Id, 2), token);
        await store.AddPlaqueAsync(Some.Plaque, token);
        await store.AddCheckAsync(Some.Check(), token);
        var test = Some.Test();
        await store.AddRepeatabilityTestAsync(test, token);
        var resting = new Domain.Trust.RepeatabilityInForce(test.Id, [new(Domain.Densitometry.Channel.Red, 0.006, 27)]);
        await store.AddStripAsync(Some.Strip(strip.Id, 3) with { Repeatability = resting, Questions = Some.Questions }, token);
        await store.AddRecheckAsync(Some.Recheck(), token);
        var next = Some.OtherLot("A1311");
        await store.AddLotAsync(next, token);
        var other = Some.Strip(lot: next.Code, judgedBy: Some.SheetWithOwnLimits);
        await store.AddStripAsync(other, token);
        var own = Some.Reference(lot: next.Code) with { BaselineStrips = [other.Id] };
        await store.AddReferenceAsync(own, token);
        var elsewhere = Some.Strip();
        var incoming = new IncomingStrip(new FilePlace("strips.jsonl", 1), elsewhere.Id.ToString(), _ => elsewhere) { IsWhole = true };
        await store.ImportStripsAsync(
            new[] { incoming }.ToAsyncEnumerable(), new ImportSource("strips.jsonl", new string('a', 64)), _ => { }, () => true, token);
        await store.AddBookEntriesAsync(SomeBooks.OneOfEach(strip.Id), token);
        await store.AddAdjustmentAsync(Some.Adjustment(next.Code, own.Id, new Domain.Lots.StripPair(strip.Id, other.Id)), token);
        await ListenAsync(store, token);
    }

    /// <summary>A service that listened, and leads a session begun with what came.</summary>
    private static async Task ListenAsync(AcquireStore store, CancellationToken token)
    {
        var (session, plan) = (Some.Session(), Some.SessionPlan());
        var listening = new Domain.Sessions.Listening(Guid.CreateVersion7(Some.Evening), "bench", "/dev/desk", plan.Profile, Some.Evening);
        await store.BeginListeningAsync(listening, token);
        await store.AppendListeningAsync(listening.Id, [Some.Chunk(1), Some.Chunk(2)], token);
        await store.BeginSessionAsync(session, plan, token);
        await store.InTransactionAsync(
            writing =>
            {
                writing.TakeLoose(new Domain.Sessions.LooseId(listening.Id, 2, 1), session.Id);
                writing.LeadSession(session.Id, TimeSpan.FromSeconds(30));
                return true;
            },
            token);
    }
}
