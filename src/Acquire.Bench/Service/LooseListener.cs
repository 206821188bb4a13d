using System.Runtime.InteropServices;
using Acquire.Bench.Sessions;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Profiles;

namespace Acquire.Bench.Service;

/// <summary>
/// Finds the readings in what an instrument sends while nobody reads with it, each with its own bytes, so that a session can begin with
/// exactly those. For one task at a time.
/// </summary>
internal sealed class LooseListener(Listening listening, DeviceProfile profile)
{
    /// <summary>More than any reading has; what is older is noise.</summary>
    private const int MostPending = 8192;

    private readonly LineReception _lines = new(profile);
    private readonly List<JournalEntry> _pending = [];

    /// <summary>Takes an entry that is in the journal, and gives the readings that it completes.</summary>
    public ImmutableArray<LooseReading> Take(JournalEntry entry)
    {
        if (entry.Event == JournalEvent.Opened)
        {
            _pending.Clear();
        }

        return Take(_lines.Take(entry));
    }

    /// <summary>The same of what was framed already; either one or the other is used.</summary>
    public ImmutableArray<LooseReading> Take(Reception reception)
    {
        var (entry, events) = reception;
        _pending.Add(entry);
        var readings = events.OfType<InstrumentEvent.ReadingTaken>().ToList();
        if (readings.Count == 0)
        {
            Forget(events);
            return [];
        }

        // The last of the pieces: what stood before may begin in the middle of a line.
        var pieces = Pieces(_pending, profile).TakeLast(readings.Count).ToList();
        Forget(events);
        return
        [
            .. readings.Zip(pieces).Select((both, part) => new LooseReading(
                new LooseId(listening.Id, entry.Sequence, part + 1), listening.Instrument, both.First.Reading, both.Second, null)),
        ];
    }

    /// <summary>A line that ended is of no more use to the next reading; a chunk in which it ended may hold that one's beginning.</summary>
    private void Forget(ImmutableArray<InstrumentEvent> events)
    {
        var isEnd = events.Any(e => e is not (InstrumentEvent.ChannelTaken or InstrumentEvent.ChannelBeyondRange));
        var size = _pending.Sum(e => e.Bytes.IsDefault ? 0 : e.Bytes.Length);
        if (isEnd)
        {
            _pending.RemoveRange(0, _pending.Count - 1);
        }
        else if (size > MostPending)
        {
            _pending.Clear();
        }
    }

    /// <summary>
    /// The entries of each reading, byte by byte: a chunk may hold the end of one and the beginning of the next. It is slow, and done only
    /// when a reading has come, which is at the pace of a hand.
    /// </summary>
    private static IEnumerable<ImmutableArray<JournalEntry>> Pieces(IEnumerable<JournalEntry> pending, DeviceProfile profile)
    {
        var lines = new LineReception(profile);
        var bytes = new List<byte>();
        foreach (var entry in pending)
        {
            foreach (var one in Single(entry))
            {
                if (one.Event == JournalEvent.Received)
                {
                    bytes.Add(one.Bytes[0]);
                }

                foreach (var received in lines.Take(one).Events)
                {
                    if (received is InstrumentEvent.ReadingTaken)
                    {
                        yield return Entries(bytes, one);
                    }

                    if (received is not (InstrumentEvent.ChannelTaken or InstrumentEvent.ChannelBeyondRange))
                    {
                        bytes.Clear();
                    }
                }
            }
        }
    }

    private static ImmutableArray<JournalEntry> Entries(List<byte> bytes, JournalEntry last)
    {
        var opened = new JournalEntry(0, last.At, JournalEvent.Opened);
        var received = new JournalEntry(0, last.At, JournalEvent.Received) { Bytes = [.. bytes] };
        return last.Event == JournalEvent.Received ? [opened, received] : [opened, received, last with { Sequence = 0 }];
    }

    private static IEnumerable<JournalEntry> Single(JournalEntry entry) => entry.Event == JournalEvent.Received
        ? (ImmutableCollectionsMarshal.AsArray(entry.Bytes) ?? []).Select(b => entry with { Bytes = [b] })
        : [entry];
}
