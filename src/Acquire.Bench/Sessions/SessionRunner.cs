using Acquire.Analysis.Gauge;
using Acquire.Analysis.Plausibility;
using Acquire.Bench.Guidance;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Links;
using Microsoft.Extensions.Logging;

namespace Acquire.Bench.Sessions;

/// <summary>
/// Makes the record that a session came for. What it gives writes the record and what belongs to it, in the transaction that ends the session.
/// </summary>
internal delegate Task<Func<StoreTransaction, T>> RecordMaker<T>(OpenSession session, GuidedStrip strip);

/// <summary>What is known of the strip of a session, as it was in force when the session began; null where nothing is to be asked.</summary>
internal delegate Task<StripKnowledge?> KnowledgeFinder(OpenSession session, CancellationToken cancellationToken);

/// <summary>
/// One guided reading from opening the port to the end of the session in the store. A session that was broken off keeps no end, so that
/// it can be gone on with. What cannot be stored any more is written to a rescue file.
/// </summary>
internal sealed class SessionRunner(AcquireStore store, ILinkOpener links, TimeProvider time, ILogger logger)
{
    /// <summary>Begins a session, runs it and, when all was read, stores its record.</summary>
    /// <exception cref="GaugeException">All was read and no record could be made of it; the session has ended.</exception>
    /// <exception cref="LinkException">The port cannot be opened; nothing was read.</exception>
    /// <exception cref="StoreException">The session cannot be begun; nothing was read.</exception>
    public async Task<(SessionResult Session, T? Record)> RunAsync<T>(
        SessionRequest request, SessionPlan plan, BenchSeat seat, RecordMaker<T> make, CancellationToken cancellationToken,
        KnowledgeFinder? knowledge = null)
        where T : class
    {
        await using var link = await OpenAsync(request.Instrument, request.GiveUpAfter, cancellationToken);
        using var session = await BeginAsync(request, plan, cancellationToken);
        var questioner = await QuestionerAsync(session, knowledge);
        return await CloseAsync(session, await FollowAsync(session, link, seat, questioner, cancellationToken), make);
    }

    /// <summary>Goes on with a session. One of which all was read is finished at once, without the instrument, unless somebody is to answer a question.</summary>
    /// <exception cref="GaugeException">All was read and no record could be made of it; the session has ended.</exception>
    /// <exception cref="LinkException">The port cannot be opened; the session stays as it is.</exception>
    public async Task<(SessionResult Session, T? Record)> ResumeAsync<T>(
        OpenSession session, BenchSeat seat, RecordMaker<T> make, CancellationToken cancellationToken, KnowledgeFinder? knowledge = null)
        where T : class
    {
        var progress = session.Progress;
        var questioner = await QuestionerAsync(session, knowledge);
        var toAnswer = session.KeepAfter is not null && (progress.Questions.Open is not null || questioner?.Next(progress) is not null);
        if (progress.Strip.IsComplete && !toAnswer)
        {
            var finish = new GuidedReading(progress, new StoreJournal(store, session.Session.Id), seat.Display, time, null, questioner);
            return await CloseAsync(session, await finish.RunAsync(AsyncEnumerable.Empty<Reception>(), seat.Commands, cancellationToken), make);
        }

        await using var link = await OpenAsync(session.Instrument, session.GiveUpAfter, cancellationToken);
        seat.Display.Show(new BenchUpdate.Resumed(progress.Strip, progress.Strip.LastRead, session.Unfinished));
        return await CloseAsync(session, await FollowAsync(session, link, seat, questioner, cancellationToken), make);
    }

    /// <summary>Not cancellable: a session that has begun is cancelled by its loop, which keeps what there is.</summary>
    private static async Task<SessionQuestioner?> QuestionerAsync(OpenSession session, KnowledgeFinder? knowledge) =>
        knowledge is not null && await knowledge(session, CancellationToken.None) is { } known
            ? new SessionQuestioner(known, atKeyboard: session.KeepAfter is not null)
            : null;

    private Task<ReconnectingLink> OpenAsync(InstrumentSetup instrument, TimeSpan giveUpAfter, CancellationToken cancellationToken) =>
        ReconnectingLink.OpenAsync(
            links, instrument.Address, instrument.Settings, time, new ReconnectOptions { GiveUpAfter = giveUpAfter }, logger, cancellationToken);

    private async Task<OpenSession> BeginAsync(SessionRequest request, SessionPlan plan, CancellationToken cancellationToken)
    {
        var now = time.GetUtcNow();
        var session = new BenchSession(
            Guid.CreateVersion7(now),
            KindOf(plan.Purpose),
            request.LotCode is { Length: > 0 } lot ? lot : null,
            request.ReadsPerPatch,
            new Provenance(now, request.By, request.Instrument.InUse))
        {
            PlaqueName = request.PlaqueName,
        };
        var progress = new SessionProgress(OpenSession.PlanOf(session, plan));
        var held = store.LockSession(session.Id, request.Program);
        try
        {
            await store.BeginSessionAsync(session, plan, cancellationToken);
            return new OpenSession(session, plan, request.Instrument, progress, held)
            {
                KeepAfter = request.KeepAfter,
                GiveUpAfter = request.GiveUpAfter,
            };
        }
        catch
        {
            held.SessionEnded();
            held.Dispose();
            throw;
        }
    }

    /// <summary>The reader stops before the link is disposed: the enumeration ends inside the reading.</summary>
    private Task<GuidedOutcome> FollowAsync(
        OpenSession session, ReconnectingLink link, BenchSeat seat, SessionQuestioner? questioner, CancellationToken cancellationToken)
    {
        var journal = new StoreJournal(store, session.Session.Id);
        var profile = session.Instrument.Profile;
        return new GuidedReading(session.Progress, journal, seat.Display, time, session.KeepAfter, questioner).RunAsync(
            tell => link.ReadAllAsync((opened, token) => InstrumentReader.ReceiveAllAsync(opened, profile, time, token), tell, cancellationToken),
            seat.Commands,
            cancellationToken);
    }

    /// <summary>Stores the record and the end of the session. Not cancellable: what was read is worth the moment it takes.</summary>
    private async Task<(SessionResult Session, T? Record)> CloseAsync<T>(OpenSession session, GuidedOutcome outcome, RecordMaker<T> make)
        where T : class
    {
        var goesOn = outcome.MayGoOn && session.Progress.HasContent;
        T? record = null;
        try
        {
            var end = new SessionEnd(outcome.Outcome, time.GetUtcNow(), outcome.Reason);
            if (outcome.Outcome == SessionOutcome.Completed)
            {
                record = await KeepAsync(session, outcome.Strip, end, make);
            }
            else if (!goesOn)
            {
                await store.EndSessionAsync(session.Session.Id, end, CancellationToken.None);
            }
        }
        catch (StoreException fault)
        {
            outcome = outcome with { Outcome = SessionOutcome.Failed, Reason = fault.Message, Fault = fault };
            goesOn = session.Progress.HasContent;
        }

        if (!goesOn)
        {
            session.HasEnded();
        }

        var rescue = outcome.Fault is StoreException ? RescueFile.Write(session.Session, outcome) : null;
        return (new SessionResult(session.Session, outcome, rescue) { GoesOn = goesOn }, record);
    }

    /// <summary>The record, what belongs to it and the session's end are kept together or not at all: what is left else is a session to go on with.</summary>
    private async Task<T> KeepAsync<T>(OpenSession session, GuidedStrip strip, SessionEnd end, RecordMaker<T> make)
        where T : class
    {
        try
        {
            var write = await make(session, strip);
            return await store.InTransactionAsync(
                writing =>
                {
                    var record = write(writing);
                    writing.EndSession(session.Session.Id, end);
                    return record;
                },
                CancellationToken.None);
        }
        catch (GaugeException)
        {
            await store.EndSessionAsync(session.Session.Id, end, CancellationToken.None);
            session.HasEnded();
            throw;
        }
    }

    private static SessionKind KindOf(SessionPurpose purpose) => purpose switch
    {
        SessionPurpose.Strip => SessionKind.Strip,
        SessionPurpose.Reference or SessionPurpose.Recheck => SessionKind.LotReference,
        SessionPurpose.Check => SessionKind.CalibrationCheck,
        _ => SessionKind.Repeatability,
    };
}

/// <summary>A session that has ended or was broken off.</summary>
/// <param name="Session">The session.</param>
/// <param name="Outcome">What became of it.</param>
/// <param name="Rescue">What was saved outside the store because the store failed; null when the store has it all.</param>
public sealed record SessionResult(BenchSession Session, GuidedOutcome Outcome, Rescue? Rescue)
{
    /// <summary>Whether it has no end in the store and can be gone on with.</summary>
    public bool GoesOn { get; init; }
}
