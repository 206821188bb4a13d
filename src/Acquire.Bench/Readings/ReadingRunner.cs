using Acquire.Analysis.Gauge;
using Acquire.Bench.Guidance;
using Acquire.Bench.Instruments;
using Acquire.Bench.Sessions;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Orders;
using Acquire.Instruments.Profiles;
using Microsoft.Extensions.Logging;

namespace Acquire.Bench.Readings;

/// <summary>
/// One guided reading from opening the port to the end of the session in the store, whatever it is for. A session that was broken off keeps
/// no end, so that it can be gone on with. What cannot be stored any more is written to a rescue file.
/// </summary>
internal sealed class ReadingRunner(AcquireStore store, IInstrumentLinks links, TimeProvider time, ILogger logger)
{
    /// <summary>Begins a session, runs it and, when all was read, stores its record.</summary>
    public async Task<ReadingResult<KeptReading>> RunAsync(
        ReadingPurpose purpose, PlannedReading planned, ReadingTerms terms, BenchSeat seat, CancellationToken cancellationToken)
    {
        // The port first: a session that could never read a line would stay behind as one to be gone on with.
        await using var link = await links.OpenAsync(terms.Instrument, seat.GiveUpAfter, cancellationToken);
        using var session = await BeginAsync(purpose, planned, terms, seat, cancellationToken);
        seat.Began?.Invoke(session);
        var questioner = await QuestionerAsync(purpose, session, seat);
        return await CloseAsync(purpose, session, seat, await FollowAsync(session, link, seat, questioner, cancellationToken));
    }

    /// <summary>Goes on with a session.</summary>
    public async Task<ReadingResult<KeptReading>> ResumeAsync(
        ReadingPurpose purpose, OpenSession session, BenchSeat seat, CancellationToken cancellationToken)
    {
        var progress = session.Progress;
        seat.Began?.Invoke(session);
        var questioner = await QuestionerAsync(purpose, session, seat);

        // All may have been read before the power went: then no instrument is needed, only somebody to answer what is open.
        var toAnswer = seat.KeepAfter is not null && (progress.Questions.Open is not null || questioner?.Next(progress) is not null);
        if (progress.Strip.IsComplete && !toAnswer)
        {
            var finish = new GuidedReading(
                progress, new StoreJournal(store, session.Session.Id), seat.Display, time, null, questioner, seat.StorePatience);
            return await CloseAsync(
                purpose, session, seat, await finish.RunAsync(AsyncEnumerable.Empty<Reception>(), seat.Commands, cancellationToken));
        }

        await using var link = await links.OpenAsync(session.Instrument, seat.GiveUpAfter, cancellationToken);
        seat.Display.Show(Resumed(progress.Strip, session.Unfinished));
        return await CloseAsync(purpose, session, seat, await FollowAsync(session, link, seat, questioner, cancellationToken));
    }

    private static BenchUpdate.Resumed Resumed(GuidedStrip strip, string? unfinished) => new(
        strip.Patches.Sum(p => p.Accepted.Count()), strip.LastRead?.Target, strip.LastRead?.Reading.Densities, unfinished);

    /// <summary>Not cancellable: a session that has begun is cancelled by its loop, which keeps what there is.</summary>
    private static async Task<SessionQuestioner?> QuestionerAsync(ReadingPurpose purpose, OpenSession session, BenchSeat seat) =>
        await purpose.KnowledgeAsync(session, CancellationToken.None) is { } known
            ? new SessionQuestioner(known, atKeyboard: seat.KeepAfter is not null)
            : null;

    private async Task<OpenSession> BeginAsync(
        ReadingPurpose purpose, PlannedReading planned, ReadingTerms terms, BenchSeat seat, CancellationToken cancellationToken)
    {
        var now = time.GetUtcNow();
        var of = planned.Of.Length > 0 ? planned.Of : null;
        var isCheck = purpose.Kind == SessionKind.CalibrationCheck;
        var session = new BenchSession(
            Guid.CreateVersion7(now),
            purpose.Kind, isCheck ? null : of, terms.ReadsPerPatch, new Provenance(now, terms.By, terms.Instrument.InUse))
        {
            PlaqueName = isCheck ? of : null,
        };
        var progress = new SessionProgress(OpenSession.PlanOf(session, planned.Plan));
        var held = store.LockSession(session.Id, seat.Program);
        try
        {
            var before = terms.Loose is { } loose ? Earlier(progress, terms.Instrument.Profile, loose) : [];
            await Patience(seat).DoAsync(
                () => store.InTransactionAsync(
                writing =>
                {
                    InstrumentBook.Ensure(writing, terms.Instrument, terms.By, now);
                    writing.BeginSession(session, planned.Plan);
                    writing.Append(session.Id, [.. before.Select(r => r.Entry)], [.. progress.Lines]);
                    terms.Loose?.MarkTaken(writing, session.Id);
                    seat.AlsoBegins?.Invoke(writing, session.Id);
                    return true;
                },
                cancellationToken),
                () => !cancellationToken.IsCancellationRequested);
            return new OpenSession(session, planned.Plan, terms.Instrument, progress, held);
        }
        catch
        {
            held.SessionEnded();
            held.Dispose();
            throw;
        }
    }

    /// <summary>What came before the session began, as the first entries of its journal.</summary>
    private static ImmutableArray<Reception> Earlier(SessionProgress progress, DeviceProfile profile, LooseReadings loose)
    {
        var lines = new LineReception(profile);
        return
        [
            .. loose.Entries.Select(entry =>
            {
                var reception = progress.Number(lines.Take(entry));
                _ = progress.Add(reception.Events);
                foreach (var received in reception.Events)
                {
                    _ = progress.Take(received);
                }

                return reception;
            }),
        ];
    }

    /// <summary>The reader stops before the link is disposed: the enumeration ends inside the reading.</summary>
    private Task<GuidedOutcome> FollowAsync(
        OpenSession session, IInstrumentLink link, BenchSeat seat, SessionQuestioner? questioner, CancellationToken cancellationToken)
    {
        var journal = new StoreJournal(store, session.Session.Id);
        var orders = new InstrumentOrders(session.Instrument.Profile, time, logger);
        if (orders.CanTrigger && seat.KeepAfter is not null)
        {
            seat.Display.Show(new BenchUpdate.Notice("This instrument reads when it is told: press t, or its own key."));
        }

        return new GuidedReading(session.Progress, journal, seat.Display, time, seat.KeepAfter, questioner, seat.StorePatience, orders)
            .RunAsync(
            tell => link.ReadAllAsync(orders.ReceiveAllAsync, tell, cancellationToken),
            seat.Commands,
            cancellationToken);
    }

    /// <summary>Stores the record and the end of the session. Not cancellable: what was read is worth the moment it takes.</summary>
    private async Task<ReadingResult<KeptReading>> CloseAsync(
        ReadingPurpose purpose, OpenSession session, BenchSeat seat, GuidedOutcome outcome)
    {
        // What passes (a cable, a full disk) leaves the session open, unless it is empty; what the user ended is ended.
        var goesOn = outcome.MayGoOn && session.Progress.HasContent;
        KeptReading? kept = null;
        try
        {
            var end = new SessionEnd(outcome.Outcome, time.GetUtcNow(), outcome.Reason);
            if (outcome.Outcome == SessionOutcome.Completed)
            {
                kept = await KeepAsync(purpose, session, seat, outcome.Strip, end);
            }
            else if (!goesOn)
            {
                await EndAsync(session, seat, end);
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
        return new ReadingResult<KeptReading>(new SessionResult(session.Session, outcome, rescue) { GoesOn = goesOn }, kept);
    }

    /// <summary>
    /// The record, what belongs to it and the session's end are kept together or not at all: what is left else is a session to go on
    /// with.
    /// </summary>
    private async Task<KeptReading> KeepAsync(
        ReadingPurpose purpose, OpenSession session, BenchSeat seat, GuidedStrip strip, SessionEnd end)
    {
        try
        {
            var write = await purpose.MakeAsync(session, strip.Patches);
            return await Patience(seat).DoAsync(() => store.InTransactionAsync(
                writing =>
                {
                    var kept = write(writing);
                    writing.EndSession(session.Session.Id, end);
                    return kept;
                },
                CancellationToken.None));
        }
        catch (GaugeException)
        {
            // Going on would fail in the same way for ever, so the session ends with its lines and without a record.
            await EndAsync(session, seat, end);
            session.HasEnded();
            throw;
        }
    }

    private Task EndAsync(OpenSession session, BenchSeat seat, SessionEnd end) =>
        Patience(seat).DoAsync(() => store.EndSessionAsync(session.Session.Id, end, CancellationToken.None));

    private PatientWrite Patience(BenchSeat seat) => new(seat.Display, time, seat.StorePatience);
}
