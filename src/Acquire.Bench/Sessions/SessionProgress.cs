using Acquire.Analysis.Plausibility;
using Acquire.Bench.Guidance;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Profiles;

namespace Acquire.Bench.Sessions;

/// <summary>
/// How far a session is: its strip and its lines. It follows from the plan and the entries of the journal alone, so that a session that
/// was broken off is rebuilt exactly as it was. For one task at a time.
/// </summary>
public sealed class SessionProgress(ReadingPlan plan)
{
    private readonly List<ReceivedLine> _lines = [];
    private readonly MessageFlood _attention = new();
    private readonly MessageFlood _remarks = new();

    /// <summary>What has been read, and what comes next.</summary>
    public GuidedStrip Strip { get; private set; } = GuidedStrip.Begin(plan);

    /// <summary>What was asked about the strip, and what was answered.</summary>
    public QuestionLog Questions { get; private set; } = QuestionLog.Empty;

    /// <summary>Every line so far, in order.</summary>
    public IReadOnlyList<ReceivedLine> Lines => _lines;

    /// <summary>The number of the last entry.</summary>
    public int Entries { get; private set; }

    /// <summary>
    /// The number of the last entry when the strip or its questions last changed: whoever has seen that, looks at what is there now.
    /// </summary>
    public int ChangedAt { get; private set; }

    /// <summary>Whether anything came or was decided, so that the session is worth going on with.</summary>
    public bool HasContent { get; private set; }

    /// <summary>Rebuilds a session from its journal, by the same framing, parsing and guidance that it was read with.</summary>
    /// <param name="entries">The journal from its beginning.</param>
    /// <exception cref="BenchException">The journal has a decision that this version does not know.</exception>
    public static SessionProgress Rebuild(ReadingPlan plan, DeviceProfile profile, IEnumerable<JournalEntry> entries)
    {
        // The same calls in the same order as at the bench, and no other path: what was shown then is what stands here.
        var progress = new SessionProgress(plan);
        var lines = new LineReception(profile);
        foreach (var entry in entries)
        {
            var reception = progress.Number(lines.Take(entry));
            progress.Add(reception.Events);
            foreach (var received in reception.Events)
            {
                _ = progress.Take(received);
            }

            if (entry.Decision is { } decision)
            {
                _ = progress.Carry(DecisionJson.Parse(decision), entry.At);
            }
        }

        return progress;
    }

    /// <summary>Gives something that happened its place in the journal.</summary>
    public Reception Number(Reception reception) => reception with { Entry = Number(reception.Entry) };

    public JournalEntry Number(JournalEntry entry)
    {
        HasContent |= entry.Event is JournalEvent.Received or JournalEvent.Decided;
        return entry with { Sequence = ++Entries };
    }

    /// <summary>Counts the lines of events, before anyone looks at what they say, and gives them with their numbers.</summary>
    public ImmutableArray<ReceivedLine> Add(IEnumerable<InstrumentEvent> events)
    {
        var before = _lines.Count;
        foreach (var received in events)
        {
            _lines.Add(new ReceivedLine(_lines.Count + 1, received.Line, received.Meaning));
        }

        return [.. _lines[before..]];
    }

    /// <summary>Takes what a line says, and gives what to show of it.</summary>
    public ImmutableArray<BenchUpdate> Take(InstrumentEvent received)
    {
        var updates = ImmutableArray.CreateBuilder<BenchUpdate>();
        var at = received.Line.ReceivedAt;
        if (received is InstrumentEvent.ReadingTaken { Reading: var reading } && Strip.Next is { } target
            && plan.Missing(reading.Densities).IsEmpty)
        {
            if (_attention.End() + _remarks.End() is > 0 and var unsaid)
            {
                updates.Add(new BenchUpdate.Notice(BenchMessages.Unsaid(unsaid)));
            }

            if (received.Note is { } note)
            {
                updates.Add(new BenchUpdate.Attention(note));
            }

            Strip = Strip.Accept(reading);
            ChangedAt = Entries;
            updates.Add(new BenchUpdate.Accepted(target, reading.Densities));
            Questions = Questions.Close(QuestionState.PassedOver);
            return updates.ToImmutable();
        }

        ImmutableArray<string> attention = [.. new[] { received.Note, Objection(received) }.OfType<string>()];
        if (!attention.IsEmpty && _attention.Admit(at))
        {
            var before = _attention.TakeUnsaid();
            updates.AddRange(attention.Select(
                (text, i) => new BenchUpdate.Attention(i == 0 && before > 0 ? $"{text} {BenchMessages.Unsaid(before)}" : text)));
        }
        else if (attention.IsEmpty && (received.Line.Bytes.IsEmpty || _remarks.Admit(at)))
        {
            updates.Add(new BenchUpdate.Remark(received.Meaning, received.Line.Text.Trim()));
        }

        return updates.ToImmutable();
    }

    /// <summary>Why a line is not taken for a reading although it may have been one; null for a line of no consequence.</summary>
    private string? Objection(InstrumentEvent received) => received switch
    {
        InstrumentEvent.ReadingTaken when Strip.Next is null => BenchMessages.AlreadyComplete,
        InstrumentEvent.ReadingTaken { Reading: var reading } => BenchMessages.MissingChannels(plan.Missing(reading.Densities)),
        InstrumentEvent.BeyondRange or InstrumentEvent.InstrumentError or InstrumentEvent.UnmatchedLine => BenchMessages.Of(received),
        _ => null,
    };

    /// <summary>Carries out a decision of the user's, and gives what to show of it.</summary>
    public BenchUpdate Carry(BenchCommand decision, DateTimeOffset at)
    {
        ChangedAt = Entries;
        try
        {
            // A command that comes too late does nothing and says so; it must not fail when the session is rebuilt by it.
            (Strip, Questions, var done) = decision switch
            {
                BenchCommand.Ask { Question: var asked, Reads: var reads } =>
                    (Strip, Questions.Ask(asked, at, passedOver: Strip.ReadsTaken > reads), asked.Question),
                BenchCommand.AcceptRemedy { Key: var key } when Questions.Open is { Asked: var asked } && asked.Key == key =>
                    (Strip.Apply(asked.Remedy, at), Questions.Answer(QuestionState.Accepted, at), Accepted(asked.Remedy)),
                BenchCommand.DismissQuestion { Key: var key } when Questions.Open?.Asked.Key == key =>
                    (Strip, Questions.Answer(QuestionState.Dismissed, at), "The strip stays as it was read."),
                BenchCommand.Undo when Strip.LastWasRemedy =>
                    (Strip.Undo(at), Questions.Reopen(), "What was done about the question is taken back."),
                BenchCommand.Undo when Strip.CanUndo => (Strip.Undo(at), Withdrawn(), "Last step taken back."),
                BenchCommand.ReadPatchAgain when Strip.CanUndo => (Strip.ReadPatchAgain(at), Withdrawn(), "Read the patch again."),
                BenchCommand.LeaveOutRead { Reason: var why } when Strip.CanUndo =>
                    (Strip.LeaveOutLastRead(why, at), Withdrawn(), "Last read left out."),
                BenchCommand.LeaveOutPatch { Reason: var why } when !Strip.IsComplete =>
                    (Strip.LeaveOutPatch(why, at), Withdrawn(), "Patch left out."),
                _ => (Strip, Questions, "There is nothing to do that to."),
            };
            return new BenchUpdate.Done(done);
        }
        catch (Exception fault) when (fault is ImpossibleValueException or ArgumentException)
        {
            return new BenchUpdate.Done(fault.Message);
        }
    }

    private QuestionLog Withdrawn() => Questions.Close(QuestionState.Withdrawn);

    private string Accepted(Remedy remedy) =>
        $"{(remedy.ChangesReads() ? "Done" : "Noted")}: {RemedyWords.Of(remedy, plan.Layout)}. Undo (u) takes that back.";
}

/// <summary>
/// Where what happens in one bench session is kept before anything of it is shown. A failure to keep it is thrown to the session.
/// </summary>
public interface ISessionJournal
{
    /// <summary>Returns when the entries, and the lines that they ended, are durable; all of them or none.</summary>
    Task AppendAsync(IReadOnlyList<JournalEntry> entries, IReadOnlyList<ReceivedLine> lines, CancellationToken cancellationToken);
}

/// <summary>Keeps the journal of one session in the store.</summary>
public sealed class StoreJournal(AcquireStore store, Guid sessionId) : ISessionJournal
{
    /// <inheritdoc/>
    public Task AppendAsync(IReadOnlyList<JournalEntry> entries, IReadOnlyList<ReceivedLine> lines, CancellationToken cancellationToken) =>
        store.AppendAsync(sessionId, entries, lines, cancellationToken);
}
