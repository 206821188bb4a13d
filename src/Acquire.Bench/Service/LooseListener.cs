using Acquire.Bench.Sessions;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Profiles;

namespace Acquire.Bench.Service;

/// <summary>
/// Finds the readings in what an instrument sends while nobody reads with it, each with its own bytes, so that a session can begin with
/// exactly those. It looks byte by byte, since a chunk may hold the end of one reading and the beginning of the next. For one task at a
/// time.
/// </summary>
internal sealed class LooseListener(Listening listening, DeviceProfile profile)
{
    /// <summary>More lines than any reading has.</summary>
    private const int MostLines = 64;

    private readonly LineReception _lines = new(profile);

    /// <summary>The line that has begun, with its end once that comes.</summary>
    private readonly List<byte> _line = [];

    /// <summary>Lines that may yet belong to a reading.</summary>
    private readonly Queue<OwnLine> _own = new();

    /// <summary>What no line end stops for so long is noise, and no reading comes of it.</summary>
    private int MostBytes => 2 * profile.Framing.MaxLength;

    /// <summary>Takes an entry that is in the journal, and gives the readings that it completes.</summary>
    public ImmutableArray<LooseReading> Take(JournalEntry entry)
    {
        var found = ImmutableArray.CreateBuilder<LooseReading>();
        if (entry.Event == JournalEvent.Received)
        {
            // A pause that was long enough ends the line before; the first byte of this chunk is none of it.
            Take(entry with { Event = JournalEvent.Paused, Bytes = default }, entry, found);
            foreach (var one in entry.Bytes)
            {
                TakeByte(one, entry, found);
            }
        }
        else
        {
            Take(entry, entry, found);
        }

        return found.ToImmutable();
    }

    private void Take(JournalEntry happened, JournalEntry entry, ImmutableArray<LooseReading>.Builder found)
    {
        Gather(_lines.Take(happened).Events, pausedAt: happened.At, entry, found);
        if (happened.Event == JournalEvent.Opened)
        {
            _line.Clear();
            _own.Clear();
        }
    }

    private void TakeByte(byte one, JournalEntry entry, ImmutableArray<LooseReading>.Builder found)
    {
        var isStart = (profile.Link.MaskTopBit ? one & 0x7F : one) == profile.Framing.Start;
        var events = _lines.Take(entry with { Bytes = [one] }).Events;
        _line.Add(one);
        Gather(events, pausedAt: null, entry, found);
        if (isStart)
        {
            // It may have ended the line before, and begins the next.
            _line.Clear();
            _line.Add(one);
        }
        else if ((one != 0 && !_lines.HasPending) || _line.Count > MostBytes)
        {
            _line.Clear();
        }
    }

    private void Gather(
        ImmutableArray<InstrumentEvent> events, DateTimeOffset? pausedAt, JournalEntry entry, ImmutableArray<LooseReading>.Builder found)
    {
        foreach (var received in events)
        {
            _own.Enqueue(new OwnLine(received.Line, [.. _line], pausedAt));
            _line.Clear();
            if (_own.Count > MostLines)
            {
                _ = _own.Dequeue();
            }

            if (received is InstrumentEvent.ReadingTaken { Reading: var reading })
            {
                var id = new LooseId(listening.Id, entry.Sequence, found.Count + 1);
                var own = _own.Where(o => reading.Lines.Any(l => ReferenceEquals(l, o.Line))).ToList();
                found.Add(new LooseReading(id, listening.Instrument, reading, Entries(own), null));
                _own.Clear();
            }
        }
    }

    private static ImmutableArray<JournalEntry> Entries(IReadOnlyList<OwnLine> own) =>
    [
        new JournalEntry(0, own[0].Line.ReceivedAt, JournalEvent.Opened),
        .. own.SelectMany(o => o.Entries()),
    ];

    /// <summary>A line with the bytes that it came in.</summary>
    /// <param name="PausedAt">When a pause had ended it; null where a byte of its own or the next one's did.</param>
    private sealed record OwnLine(RawLine Line, ImmutableArray<byte> Bytes, DateTimeOffset? PausedAt)
    {
        public IEnumerable<JournalEntry> Entries()
        {
            yield return new JournalEntry(0, Line.ReceivedAt, JournalEvent.Received) { Bytes = Bytes };
            if (PausedAt is { } at)
            {
                yield return new JournalEntry(0, at, JournalEvent.Paused);
            }
        }
    }
}
