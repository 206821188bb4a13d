using Acquire.Bench.Guidance;
using Acquire.Bench.Readings;
using Acquire.Bench.Service;
using Acquire.Bench.Sessions;
using Acquire.Storage.Records;

namespace Acquire.Web.Documents;

/// <summary>A session as it stands, as a whole. Names of properties are a contract; new ones may be added.</summary>
internal sealed record SessionDocument
{
    public required Guid Id { get; init; }

    /// <summary>
    /// The number of what happened last; commands name it, so that none falls on another patch than the one that was seen.
    /// </summary>
    public required int Sequence { get; init; }

    /// <summary>
    /// What it is doing: <c>reading</c>, <c>asking</c>, <c>allRead</c>; or how it ended: <c>completed</c>, <c>cancelled</c>, <c>failed</c>;
    /// <c>brokenOff</c> where it can be gone on with.
    /// </summary>
    public required LivePhase State { get; init; }

    public required SessionPurpose? Purpose { get; init; }

    public required string? Instrument { get; init; }

    public required string? Lot { get; init; }

    public required string? Plaque { get; init; }

    public required string? Line { get; init; }

    public required string? Bottle { get; init; }

    public required int ReadsPerPatch { get; init; }

    public required string By { get; init; }

    public required DateTimeOffset BegunAt { get; init; }

    /// <summary>What is to be read next; null when all is read or it is over.</summary>
    public required TargetDocument? Next { get; init; }

    /// <summary>The question that waits for an answer.</summary>
    public required OpenQuestionDocument? Question { get; init; }

    /// <summary>The patches with every read, in the order of reading; null where a version kept too little to rebuild them.</summary>
    public required IReadOnlyList<SessionPatchDocument>? Patches { get; init; }

    /// <summary>How it ended, in words; null while it goes on.</summary>
    public required string? Reason { get; init; }

    /// <summary>The strip it made; null while it is not complete, and where it makes none.</summary>
    public required Guid? Strip { get; init; }

    /// <summary>Whether what was read is as it should be; null until it is complete.</summary>
    public required bool? Holds { get; init; }

    /// <summary>What looks wrong about what the books gained by it.</summary>
    public IReadOnlyList<string> Warnings { get; init; } = [];
}

/// <summary>The patch and read that come next.</summary>
/// <param name="Patch">Key of the patch.</param>
/// <param name="Name">The trade's name.</param>
/// <param name="Read">Which read of it, from 1.</param>
/// <param name="Of">How many reads it is to have.</param>
/// <param name="Position">Which patch, from 1.</param>
/// <param name="Patches">How many patches there are.</param>
/// <param name="Still">Whether the patch stays where it is for this read.</param>
internal sealed record TargetDocument(string Patch, string Name, int Read, int Of, int Position, int Patches, bool Still)
{
    internal static TargetDocument? From(ReadTarget? target) => target is null
        ? null
        : new(target.Patch.Key, target.Patch.Name, target.Read, target.Of, target.Position, target.Patches, target.Still);
}

/// <param name="Remedy">What is proposed, in words.</param>
internal sealed record OpenQuestionDocument(string Text, string Remedy);

/// <param name="Patch">Key of the patch.</param>
/// <param name="LeftOut">Why it was left out; null where it was not.</param>
internal sealed record SessionPatchDocument(string Patch, string Name, string? LeftOut, IReadOnlyList<SessionReadDocument> Reads);

/// <summary>One read, in density.</summary>
/// <param name="Excluded">Why it does not count; null where it does.</param>
/// <param name="Lines">The raw lines it came from.</param>
internal sealed record SessionReadDocument(
    DateTimeOffset At, decimal? Red, decimal? Green, decimal? Blue, decimal? Visual, string? Excluded, IReadOnlyList<string> Lines);

/// <summary>Something that happened in a session, as one server-sent event.</summary>
/// <param name="Sequence">The number of what happened last.</param>
/// <param name="Shown">What a terminal shows of it.</param>
/// <param name="Session">The session after it.</param>
internal sealed record SessionEventDocument(int Sequence, IReadOnlyList<BenchUpdate> Shown, SessionDocument Session);

/// <summary>A command to a session.</summary>
/// <param name="Command">
/// <c>undo</c>, <c>readPatchAgain</c>, <c>leaveOutRead</c>, <c>leaveOutPatch</c>, <c>yes</c>, <c>no</c>, <c>keep</c>, <c>cancel</c>,
/// <c>trigger</c>.
/// </param>
/// <param name="Sequence">The number that its sender has seen; may be left out of <c>cancel</c> only.</param>
/// <param name="Reason">Why something is left out.</param>
internal sealed record SessionCommandDocument(string Command, int? Sequence, string? Reason);

internal static class SessionJson
{
    /// <summary>A session that the service leads.</summary>
    public static SessionDocument Of(LiveSession session) => Of(session, session.State);

    public static SessionDocument Of(LiveSession session, LiveState state)
    {
        var (begun, plan) = (session.Session, session.Plan);
        return new()
        {
            Id = begun.Id,
            Sequence = state.Sequence,
            State = state.Phase,
            Purpose = plan.Purpose,
            Instrument = session.Instrument,
            Lot = begun.LotCode,
            Plaque = begun.PlaqueName,
            Line = plan.Tags.Line,
            Bottle = plan.Tags.Bottle,
            ReadsPerPatch = begun.ReadsPerPatch,
            By = begun.Provenance.By,
            BegunAt = begun.Provenance.At,
            Next = state.IsOver ? null : TargetDocument.From(state.Strip.Next),
            Question = state.Question is { } asked ? new OpenQuestionDocument(asked.Text, asked.Remedy) : null,
            Patches = Patches(state.Strip),
            Reason = state.Reason,
            Strip = (state.Kept as KeptStrip)?.Record.Id,
            Holds = state.Kept?.Holds,
            Warnings = (state.Kept as KeptStrip)?.Warnings ?? [],
        };
    }

    /// <summary>A session from the store, which ended or was broken off.</summary>
    /// <param name="strip">The strip it made; null where it made none.</param>
    public static SessionDocument Of(StoredSession stored, SessionPlan? plan, SessionProgress? progress, Guid? strip) => new()
    {
        Id = stored.Session.Id,
        Sequence = progress?.Entries ?? 0,
        State = stored.End?.Outcome switch
        {
            SessionOutcome.Completed => LivePhase.Completed,
            SessionOutcome.Cancelled => LivePhase.Cancelled,
            SessionOutcome.Failed => LivePhase.Failed,
            _ => LivePhase.BrokenOff,
        },
        Purpose = stored.Purpose,
        Instrument = stored.Session.Provenance.Instrument?.Name,
        Lot = stored.Session.LotCode,
        Plaque = stored.Session.PlaqueName,
        Line = plan?.Tags.Line,
        Bottle = plan?.Tags.Bottle,
        ReadsPerPatch = stored.Session.ReadsPerPatch,
        By = stored.Session.Provenance.By,
        BegunAt = stored.Session.Provenance.At,
        Next = stored.End is null ? TargetDocument.From(progress?.Strip.Next) : null,
        Question = null,
        Patches = progress is null ? null : Patches(progress.Strip),
        Reason = stored.End?.Reason,
        Strip = strip,
        Holds = null,
    };

    public static SessionEventDocument Of(LiveSession session, LiveEvent happened) =>
        new(happened.Sequence, happened.Shown, Of(session, happened.State));

    private static List<SessionPatchDocument> Patches(GuidedStrip strip) =>
    [
        .. strip.Patches.Select(p => new SessionPatchDocument(
            p.Patch.Key,
            p.Patch.Name,
            p.LeftOut?.Reason,
            [
                .. p.Reads.Select(r => new SessionReadDocument(
                    r.Reading.At,
                    r.Reading.Densities.Red?.Value,
                    r.Reading.Densities.Green?.Value,
                    r.Reading.Densities.Blue?.Value,
                    r.Reading.Densities.Visual?.Value,
                    r.Exclusion?.Reason,
                    [.. r.Reading.Lines.Select(l => l.Text)])),
            ])),
    ];
}
