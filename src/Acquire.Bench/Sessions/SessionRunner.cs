using Acquire.Bench.Guidance;
using Acquire.Domain.Records;
using Acquire.Domain.Sessions;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Links;
using Acquire.Storage;
using Microsoft.Extensions.Logging;

namespace Acquire.Bench.Sessions;

/// <summary>
/// One guided reading from opening the port to the end of the session in the store. What cannot be stored any more is written to a
/// rescue file, so that nothing that was read is lost.
/// </summary>
internal sealed class SessionRunner(AcquireStore store, ILinkOpener links, TimeProvider time, ILogger? logger = null)
{
    /// <summary>Runs a session and, when all was read, lets <paramref name="record"/> store what it came for.</summary>
    /// <exception cref="LinkException">The port cannot be opened; nothing was read.</exception>
    /// <exception cref="StoreException">The session cannot be begun; nothing was read.</exception>
    public async Task<SessionResult> RunAsync(
        SessionKind kind,
        SessionRequest request,
        ReadingPlan plan,
        BenchSeat seat,
        Func<BenchSession, GuidedStrip, Task> record,
        CancellationToken cancellationToken)
    {
        var (address, profile, settings) = request.Instrument;
        var reconnect = new ReconnectOptions { GiveUpAfter = request.GiveUpAfter };
        await using var link = await ReconnectingLink.OpenAsync(links, address, settings, time, reconnect, logger, cancellationToken);
        var now = time.GetUtcNow();
        var session = new BenchSession(
            Guid.CreateVersion7(now),
            kind,
            request.LotCode is { Length: > 0 } lot ? lot : null,
            plan.ReadsPerPatch,
            new Provenance(now, request.By, request.Instrument.InUse))
        {
            PlaqueName = request.PlaqueName,
        };
        await store.BeginSessionAsync(session, cancellationToken);

        // The reader stops before the link is disposed: the enumeration ends inside RunAsync.
        var reading = new GuidedReading(plan, new StoreJournal(store, session.Id), seat.Display, time, request.KeepAfter);
        var outcome = await reading.RunAsync(
            tell => link.ReadAllAsync((opened, token) => InstrumentReader.ReadAllAsync(opened, profile, time, token), tell, cancellationToken),
            seat.Commands,
            cancellationToken);
        return await CloseAsync(session, outcome, record);
    }

    /// <summary>Stores the record and the end of the session. Not cancellable: what was read is worth the moment it takes.</summary>
    private async Task<SessionResult> CloseAsync(BenchSession session, GuidedOutcome outcome, Func<BenchSession, GuidedStrip, Task> record)
    {
        try
        {
            if (outcome.Outcome == SessionOutcome.Completed)
            {
                await record(session, outcome.Strip);
            }

            await store.EndSessionAsync(
                session.Id, new SessionEnd(outcome.Outcome, time.GetUtcNow(), outcome.Reason), CancellationToken.None);
        }
        catch (StoreException fault)
        {
            outcome = outcome with { Outcome = SessionOutcome.Failed, Reason = fault.Message, Fault = fault };
        }

        var rescue = outcome.Fault is StoreException ? RescueFile.Write(session, outcome) : null;
        return new SessionResult(session, outcome, rescue);
    }
}

/// <summary>A session that has ended.</summary>
/// <param name="Session">The session.</param>
/// <param name="Outcome">What became of it.</param>
/// <param name="Rescue">What was saved outside the store because the store failed; null when the store has it all.</param>
public sealed record SessionResult(BenchSession Session, GuidedOutcome Outcome, Rescue? Rescue);
