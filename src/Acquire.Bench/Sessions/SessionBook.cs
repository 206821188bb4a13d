using Acquire.Bench.Guidance;
using Acquire.Instruments.Links;
using Acquire.Instruments.ProfileFiles;
using Acquire.Instruments.Profiles;
using Acquire.Storage.Records;

namespace Acquire.Bench.Sessions;

/// <summary>The sessions in the store: those that ended, and those that were broken off and can be gone on with.</summary>
public sealed class SessionBook(AcquireStore store, TimeProvider time)
{
    /// <summary>All sessions in the order in which they began, each with the program that reads it now, if one does.</summary>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<ImmutableArray<(StoredSession Session, SessionHolder? Reader)>> ListAsync(CancellationToken cancellationToken) =>
        [.. (await store.ListSessionsAsync(cancellationToken)).Select(s => (s, s.End is null ? store.ReaderOf(s.Session.Id) : null))];

    /// <summary>The sessions that were broken off and are read by no program now, oldest first.</summary>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<ImmutableArray<StoredSession>> UnfinishedAsync(CancellationToken cancellationToken) =>
        [.. (await store.ListOpenSessionsAsync(cancellationToken)).Where(s => s.IsUnfinished && store.ReaderOf(s.Session.Id) is null)];

    /// <summary>The session whose id is given, or a beginning or end of it of four hexadecimal digits or more.</summary>
    /// <exception cref="BenchException">There is none, or the part fits several.</exception>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<StoredSession> GetAsync(string idOrPart, CancellationToken cancellationToken)
    {
        var part = idOrPart.Trim().Replace("-", "", StringComparison.Ordinal).ToLowerInvariant();
        if (part.Length < 4 || !part.All(char.IsAsciiHexDigit))
        {
            throw new BenchException($"'{idOrPart}' is no session id; give four of its digits or more. See: acquire session list");
        }

        var found = (await store.ListSessionsAsync(cancellationToken)).Where(s => StripId.Fits(s.Session.Id.ToString("N"), part)).ToList();
        return found switch
        {
            [var one] => one,
            [] => throw new BenchException($"There is no session {idOrPart}. See: acquire session list") { IsNotThere = true },
            _ => throw new BenchException($"'{idOrPart}' fits {found.Count} sessions; give more of the id. See: acquire session list"),
        };
    }

    /// <summary>How far a session is or was, rebuilt from its journal; null for one begun by a version that kept none.</summary>
    /// <exception cref="BenchException">This version cannot rebuild it.</exception>
    /// <exception cref="ProfileException">This version cannot use the profile that it was read with.</exception>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<SessionProgress?> ProgressAsync(BenchSession session, CancellationToken cancellationToken) =>
        await store.FindPlanAsync(session.Id, cancellationToken) is { } plan
            ? SessionProgress.Rebuild(
                OpenSession.PlanOf(session, plan),
                OpenSession.ProfileOf(plan), await store.SessionEntriesAsync(session.Id, cancellationToken))
            : null;

    /// <summary>
    /// Takes up a session that was broken off, as its journal has it. What had come of a line when it broke off stays an unfinished line,
    /// and framing begins anew.
    /// </summary>
    /// <param name="idOrPart">The session; null for the newest that was broken off.</param>
    /// <param name="port">Where the instrument is now; null for where it was.</param>
    /// <param name="program">The command that takes it up, for the note that tells others who reads the session.</param>
    /// <exception cref="BenchException">There is none, or it has ended, or this version cannot rebuild it.</exception>
    /// <exception cref="ProfileException">This version cannot use the profile that it was read with.</exception>
    /// <exception cref="StoreException">Another program reads it, or the store cannot be used.</exception>
    public async Task<OpenSession> TakeUpAsync(
        string? idOrPart, LinkAddress? port, string program, CancellationToken cancellationToken)
    {
        var wanted = idOrPart is { } id
            ? await GetAsync(id, cancellationToken)
            : (await UnfinishedAsync(cancellationToken)).LastOrDefault()
                ?? throw new BenchException("No session was broken off, so there is nothing to go on with. See: acquire session list");
        var session = wanted.Session;
        var held = store.LockSession(session.Id, program);
        try
        {
            // What was found may have ended while another program still held it.
            var plan = Unfinished((await store.FindSessionAsync(session.Id, cancellationToken))!) is { } purpose
                ? (await store.FindPlanAsync(session.Id, cancellationToken))!
                : throw new BenchException($"Session {session.Id} was begun by a version that kept too little to go on with; see its "
                    + $"lines: acquire session show {session.Id}");
            var profile = OpenSession.ProfileOf(plan);
            var (progress, unfinished) = await ClosedAsync(session, plan, profile, cancellationToken);
            var used = session.Provenance.Instrument!;
            var address = port ?? LinkAddress.Parse(await PortNowAsync(session, used, cancellationToken));
            var instrument = new InstrumentSetup(address, profile, profile.Link with { Baud = plan.Baud }) { Name = used.Name };
            return new OpenSession(session, plan, instrument, progress, held) { Unfinished = unfinished };
        }
        catch
        {
            held.Dispose();
            throw;
        }
    }

    /// <summary>The port of the session, unless the instrument was said to be on another one since.</summary>
    private async Task<string> PortNowAsync(BenchSession session, InstrumentInUse used, CancellationToken cancellationToken)
    {
        var revisions = await store.InstrumentRevisionsAsync(used.Name, cancellationToken);
        var then = revisions.LastOrDefault(r => r.Revision.At <= session.Provenance.At)?.Port;
        return revisions is [.., { Port: { } now }] && now != then ? now : used.Port;
    }

    /// <summary>Ends a session that was broken off; what was read stays in it.</summary>
    /// <exception cref="BenchException">It has ended.</exception>
    /// <exception cref="StoreException">Another program reads it, or the store cannot be written.</exception>
    public async Task DiscardAsync(StoredSession wanted, string reason, CancellationToken cancellationToken)
    {
        using var held = store.LockSession(wanted.Session.Id, "acquire session discard");
        _ = Unfinished((await store.FindSessionAsync(wanted.Session.Id, cancellationToken))!);
        await store.EndSessionAsync(
            wanted.Session.Id, new SessionEnd(SessionOutcome.Cancelled, time.GetUtcNow(), reason), cancellationToken);
        held.SessionEnded();
    }

    /// <summary>What a session without an end is to make; null when it was begun by a version that did not keep it.</summary>
    private static SessionPurpose? Unfinished(StoredSession stored) => stored.End is { } end
        ? throw new BenchException(
            $"Session {stored.Session.Id} has ended ({end.Outcome.ToString().ToLowerInvariant()}: {end.Reason}); it stays as it is.")
        : stored.Purpose;

    /// <summary>
    /// The progress of a session whose link is closed in the journal. The link that was open when the session broke off gets its break at
    /// the time of the last entry: a pause since then proves nothing, for the instrument may have gone on sending.
    /// </summary>
    private async Task<(SessionProgress Progress, string? Unfinished)> ClosedAsync(
        BenchSession session, SessionPlan plan, DeviceProfile profile, CancellationToken cancellationToken)
    {
        var entries = await store.SessionEntriesAsync(session.Id, cancellationToken);
        var progress = SessionProgress.Rebuild(OpenSession.PlanOf(session, plan), profile, entries);
        if (entries.LastOrDefault(e => e.Event != JournalEvent.Decided) is not { Event: not JournalEvent.Broke } last)
        {
            return (progress, null);
        }

        // Written into the journal, so that the next rebuild cuts the line at the same place.
        var closing = new JournalEntry(entries.Count + 1, last.At, JournalEvent.Broke);
        var closed = SessionProgress.Rebuild(OpenSession.PlanOf(session, plan), profile, entries.Append(closing));
        var cut = closed.Lines.Skip(progress.Lines.Count).ToList();
        await store.AppendAsync(session.Id, [closing], cut, cancellationToken);
        return (closed, cut.Count > 0 ? cut[^1].Line.Text : null);
    }
}

/// <summary>A session that this program reads, begun just now or taken up again; no other program reads it meanwhile.</summary>
/// <param name="plan">What it needs to be finished.</param>
/// <param name="instrument">The instrument, on the port where it is now.</param>
public sealed class OpenSession(
    BenchSession session, SessionPlan plan, InstrumentSetup instrument, SessionProgress progress, SessionLock held) : IDisposable
{
    public BenchSession Session { get; } = session;

    /// <summary>What it needs to be finished.</summary>
    public SessionPlan Plan { get; } = plan;

    /// <summary>The instrument, on the port where it is now.</summary>
    public InstrumentSetup Instrument { get; } = instrument;

    public SessionProgress Progress { get; } = progress;

    /// <summary>The beginning of a line that was cut when the session was broken off; null when none was.</summary>
    internal string? Unfinished { get; init; }

    /// <summary>Lets the session go; unless it has ended, another program may take it up.</summary>
    public void Dispose() => held.Dispose();

    /// <summary>What is to be read, from a session and its plan.</summary>
    internal static ReadingPlan PlanOf(BenchSession session, SessionPlan plan) =>
        new(plan.Layout, session.ReadsPerPatch, plan.Channels) { ReadsPerPlacement = plan.ReadsPerPlacement };

    /// <summary>The profile as it was when the session began.</summary>
    /// <exception cref="ProfileException">This version of the program cannot use it.</exception>
    internal static DeviceProfile ProfileOf(SessionPlan plan) => ProfileReader.Read(plan.Profile.Text, plan.Profile.Name + ".json");

    /// <summary>Says that the session has ended, so that its lock is of no more use.</summary>
    internal void HasEnded() => held.SessionEnded();
}
