using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Lines;

/// <summary>Something that happened on a link, with the lines that it ended.</summary>
/// <param name="Entry">What happened.</param>
/// <param name="Events">The lines, in order.</param>
public sealed record Reception(JournalEntry Entry, ImmutableArray<InstrumentEvent> Events);

/// <summary>Lines from what happened on links, one link after another. It has no clock of its own: the same entries give the same lines,
/// live and when they are read again from the journal. For one task at a time.</summary>
/// <param name="profile">How lines are framed and parsed.</param>
public sealed class LineReception(DeviceProfile profile)
{
    private LineFramer _framer = new(profile.Framing, profile.Link.MaskTopBit);
    private LineInterpreter _interpreter = new(profile);

    /// <summary>Whether a line has begun and not ended.</summary>
    public bool HasPending => _framer.HasPending;

    /// <summary>When a pause will end the pending line; null when there is none or pauses mean nothing.</summary>
    internal DateTimeOffset? Deadline => _framer.Deadline;

    /// <summary>Takes an entry and gives the lines that it ends; a decision of the user's ends none.</summary>
    public Reception Take(JournalEntry entry) => new(entry, [.. Frames(entry).Select(_interpreter.Interpret)]);

    private IEnumerable<LineFrame> Frames(JournalEntry entry)
    {
        switch (entry.Event)
        {
            case JournalEvent.Opened:
                // A half line and a half reading of the link before must not be completed by this one.
                _framer = new LineFramer(profile.Framing, profile.Link.MaskTopBit);
                _interpreter = new LineInterpreter(profile);
                return [];
            case JournalEvent.Received:
                return _framer.Push(entry.Bytes.AsSpan(), entry.At);
            case JournalEvent.Paused:
                return _framer.Flush(entry.At);
            case JournalEvent.Broke:
                // A pause that was long enough before the link broke has ended the line.
                return [.. _framer.Flush(entry.At), .. _framer.Finish()];
            default:
                return [];
        }
    }
}
