using System.Net.Http.Json;
using System.Net.ServerSentEvents;
using System.Text.Json;
using Acquire.Bench.Lots;
using Acquire.Bench.Readings;
using Acquire.Bench.Service;
using Acquire.Bench.Sessions;
using Acquire.Bench.Trust;
using Acquire.Instruments.Links;
using Acquire.Web.Api;
using Acquire.Web.Hosting;

namespace Acquire.Terminal;

/// <summary>
/// Sits down at a service that runs on the data folder: it reads the instrument and leads the session, and this terminal shows what it
/// shows and passes keys on. The terminal may go and come back; the session does not care. What the service does not read is read here.
/// </summary>
internal sealed class AttachedDesk(AttachedService service, AcquireStore store, LotBook lots, IReadingDesk own, TimeProvider time)
    : IReadingDesk, IDisposable
{
    /// <summary>How long a service that went away in the middle of a session is waited for.</summary>
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(2);

    private static readonly TimeSpan Step = TimeSpan.FromMilliseconds(250);

    /// <summary>A desk at the service that runs on a data folder; null where none does.</summary>
    public static AttachedDesk? Find(string dataFolder, AcquireStore store, LotBook lots, IReadingDesk own, TimeProvider time) =>
        ServiceFile.Find(Path.GetFullPath(dataFolder)) is { } found
            ? new AttachedDesk(new AttachedService(ServiceConnection.Open(found), Path.GetFullPath(dataFolder)), store, lots, own, time)
            : null;

    public Task<ReadingResult<KeptStrip>> ReadAsync(
        StripRequest request, ReadingTerms terms, BenchSeat seat, CancellationToken cancellationToken) => ThereOrHereAsync(
            SessionRequestJson.Of(request), () => own.ReadAsync(request, terms, seat, cancellationToken), terms, seat, cancellationToken);

    public Task<ReadingResult<KeptReference>> ReadAsync(
        ReferenceRequest request, ReadingTerms terms, BenchSeat seat, CancellationToken cancellationToken) => ThereOrHereAsync(
            SessionRequestJson.Of(request), () => own.ReadAsync(request, terms, seat, cancellationToken), terms, seat, cancellationToken);

    public Task<ReadingResult<RecheckReview>> ReadAsync(
        RecheckRequest request, ReadingTerms terms, BenchSeat seat, CancellationToken cancellationToken) => ThereOrHereAsync(
            SessionRequestJson.Of(request), () => own.ReadAsync(request, terms, seat, cancellationToken), terms, seat, cancellationToken);

    public Task<ReadingResult<JudgedCheck>> ReadAsync(
        CheckRequest request, ReadingTerms terms, BenchSeat seat, CancellationToken cancellationToken) => ThereOrHereAsync(
            SessionRequestJson.Of(request), () => own.ReadAsync(request, terms, seat, cancellationToken), terms, seat, cancellationToken);

    public Task<ReadingResult<KeptTest>> ReadAsync(
        RepeatabilityRequest request, ReadingTerms terms, BenchSeat seat, CancellationToken cancellationToken) => ThereOrHereAsync(
            SessionRequestJson.Of(request), () => own.ReadAsync(request, terms, seat, cancellationToken), terms, seat, cancellationToken);

    /// <summary>A session that the service reads is watched from its beginning; one that was broken off is taken up there.</summary>
    public async Task<ReadingResult<KeptReading>> ResumeAsync(
        string? idOrPart, LinkAddress? port, BenchSeat seat, CancellationToken cancellationToken)
    {
        var book = new SessionBook(store, time);
        var session = idOrPart is { } id
            ? (await book.GetAsync(id, cancellationToken)).Session
            : (await book.UnfinishedAsync(cancellationToken)).LastOrDefault()?.Session;
        if (session is null || port is not null || session.Provenance.Instrument is not { } instrument
            || await service.StationAsync(instrument.Name, cancellationToken) is null)
        {
            return await own.ResumeAsync(idOrPart, port, seat, cancellationToken);
        }

        var path = $"/api/v1/sessions/{session.Id}";
        using var answer = await service.Client.PostAsJsonAsync(
            path + "/resume", new SessionResumeDocument(seat.KeepAfter?.TotalSeconds, seat.Program), WireJson.Options, cancellationToken);
        return await FollowAsync((await ServiceAnswer.OfAsync<SessionDocument>(answer, cancellationToken)).Id, seat, cancellationToken);
    }

    public void Dispose() => service.Dispose();

    /// <summary>At the service where it reads the instrument; else with a port of our own.</summary>
    private async Task<ReadingResult<TKept>> ThereOrHereAsync<TKept>(
        SessionRequestDocument asked,
        Func<Task<ReadingResult<TKept>>> here,
        ReadingTerms terms,
        BenchSeat seat,
        CancellationToken cancellationToken)
        where TKept : KeptReading =>
        await IsReadThereAsync(terms, cancellationToken)
            ? As<TKept>(await BeginAsync(asked, terms, seat, cancellationToken))
            : await here();

    private async Task<bool> IsReadThereAsync(ReadingTerms terms, CancellationToken cancellationToken) =>
        await service.StationAsync(terms.Instrument.Name, cancellationToken) is { } there
            && there.Port == terms.Instrument.Address.ToString();

    private async Task<ReadingResult<KeptReading>> BeginAsync(
        SessionRequestDocument asked, ReadingTerms terms, BenchSeat seat, CancellationToken cancellationToken)
    {
        var request = asked with
        {
            Instrument = terms.Instrument.Name,
            ReadsPerPatch = terms.ReadsPerPatch,
            By = terms.By,
            KeepAfter = seat.KeepAfter?.TotalSeconds,
            Program = seat.Program,
        };
        using var answer = await service.Client.PostAsJsonAsync("/api/v1/sessions", request, WireJson.Options, cancellationToken);
        return await FollowAsync((await ServiceAnswer.OfAsync<SessionDocument>(answer, cancellationToken)).Id, seat, cancellationToken);
    }

    /// <summary>Shows what the session shows and passes commands on, until it is over; over a restart of the service too.</summary>
    private async Task<ReadingResult<KeptReading>> FollowAsync(Guid id, BenchSeat seat, CancellationToken cancellationToken)
    {
        var watch = new Watch(id);
        using var over = CancellationTokenSource.CreateLinkedTokenSource(cancellationToken);
        var keys = PassOnAsync(watch, seat, over.Token);
        try
        {
            while (!await ShowAsync(watch, seat, over.Token))
            {
                await FindAgainAsync(seat, over.Token);
            }
        }
        catch (OperationCanceledException) when (cancellationToken.IsCancellationRequested)
        {
            // Ctrl-C ends what a person sees to, as it does where the port is read here; a service by itself goes on.
            await CancelAsync(id);
        }
        finally
        {
            await over.CancelAsync();
            await ((Task)keys).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        }

        foreach (var warning in watch.Session?.Warnings ?? [])
        {
            seat.Display.Show(new BenchUpdate.Notice(warning));
        }

        return await ResultAsync(id);
    }

    /// <summary>Whether the session is over; false when the connection went.</summary>
    private async Task<bool> ShowAsync(Watch watch, BenchSeat seat, CancellationToken cancellationToken)
    {
        try
        {
            using var request = new HttpRequestMessage(HttpMethod.Get, $"/api/v1/sessions/{watch.Id}/events");
            if (watch.LastEventId is { Length: > 0 } last)
            {
                request.Headers.Add("Last-Event-ID", last);
            }

            using var answer = await service.Client.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, cancellationToken);
            _ = answer.IsSuccessStatusCode ? answer : throw await ServiceAnswer.ProblemAsync(answer, cancellationToken);
            await using var stream = await answer.Content.ReadAsStreamAsync(cancellationToken);
            var events = SseParser.Create(
                stream, (_, data) => JsonSerializer.Deserialize<SessionEventDocument>(data, WireJson.Options)!);
            await foreach (var happened in events.EnumerateAsync(cancellationToken))
            {
                (watch.Session, watch.LastEventId) = (happened.Data.Session, events.LastEventId);
                foreach (var update in happened.Data.Shown)
                {
                    seat.Display.Show(update);
                }

                if (happened.EventType == "over")
                {
                    // A service that stops leaves the session to be gone on with, by the next one.
                    return happened.Data.Session.State != LivePhase.BrokenOff || service.Runs;
                }
            }

            return false;
        }
        catch (Exception fault) when (fault is HttpRequestException or IOException)
        {
            return false;
        }
        catch (JsonException fault)
        {
            throw new BenchException(
                "The service runs another version, whose words this one does not know; the session goes on there. Start both from one "
                + "version.",
                fault);
        }
    }

    private async Task FindAgainAsync(BenchSeat seat, CancellationToken cancellationToken)
    {
        seat.Display.Show(new BenchUpdate.Notice(
            "The service went away; what was read is kept, and the reading goes on here when it is back: acquire serve"));
        var since = time.GetTimestamp();
        while (time.GetElapsedTime(since) < Patience)
        {
            if (await service.IsBackAsync(cancellationToken))
            {
                seat.Display.Show(new BenchUpdate.Notice("The service is back."));
                return;
            }

            await Task.Delay(Step, time, cancellationToken);
        }

        throw new BenchException("The service did not come back. Start it again (acquire serve), or go on without it: acquire resume");
    }

    /// <summary>Each key counts for what was shown when it was pressed, or not at all.</summary>
    private async Task PassOnAsync(Watch watch, BenchSeat seat, CancellationToken cancellationToken)
    {
        await foreach (var command in seat.Commands.ReadAllAsync(cancellationToken))
        {
            try
            {
                using var answer = await service.Client.PostAsJsonAsync(
                    $"/api/v1/sessions/{watch.Id}/commands",
                    CommandWords.Of(command, watch.Session?.Sequence ?? 0),
                    WireJson.Options,
                    cancellationToken);
                if (!answer.IsSuccessStatusCode)
                {
                    seat.Display.Show(new BenchUpdate.Done((await ServiceAnswer.ProblemAsync(answer, cancellationToken)).Message));
                }
            }
            catch (Exception fault) when (fault is HttpRequestException or ObjectDisposedException or OperationCanceledException
                && !cancellationToken.IsCancellationRequested)
            {
                seat.Display.Show(new BenchUpdate.Done("The service cannot be reached now; nothing was done."));
            }
        }
    }

    private async Task CancelAsync(Guid id)
    {
        try
        {
            using var answer = await service.Client.PostAsJsonAsync(
                $"/api/v1/sessions/{id}/commands",
                CommandWords.Of(new BenchCommand.Cancel(), null), WireJson.Options, CancellationToken.None);
        }
        catch (HttpRequestException)
        {
            // The session stays as it is, to be gone on with.
        }
    }

    /// <summary>
    /// How it ended, from the store, as a reading of one's own gives it. Not cancellable: what was read is worth the moment.
    /// </summary>
    private async Task<ReadingResult<KeptReading>> ResultAsync(Guid id)
    {
        var book = new SessionBook(store, time);
        var stored = (await store.FindSessionAsync(id, CancellationToken.None))!;
        var progress = (await book.ProgressAsync(stored.Session, CancellationToken.None))!;
        var outcome = new GuidedOutcome(
            stored.End?.Outcome ?? SessionOutcome.Failed,
            stored.End?.Reason ?? "the service does not read it any more", progress.Strip, [.. progress.Lines]);
        var result = new SessionResult(stored.Session, outcome, null) { GoesOn = stored.End is null };
        return new ReadingResult<KeptReading>(
            result,
            outcome.Outcome == SessionOutcome.Completed
                ? await new KeptBook(store, lots, time).OfAsync(stored, CancellationToken.None)
                : null);
    }

    private static ReadingResult<TKept> As<TKept>(ReadingResult<KeptReading> result)
        where TKept : KeptReading => new(result.Session, (TKept?)result.Kept);

    private sealed class Watch(Guid id)
    {
        private volatile SessionDocument? _session;

        public Guid Id => id;

        public SessionDocument? Session { get => _session; set => _session = value; }

        public string? LastEventId { get; set; }
    }
}
