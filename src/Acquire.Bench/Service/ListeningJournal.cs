using Acquire.Bench.Sessions;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Profiles;

namespace Acquire.Bench.Service;

/// <summary>
/// Keeps what comes while a station listens, and finds the readings in it. A listening is begun in the store with the first bytes: a
/// silent night leaves nothing behind.
/// </summary>
internal sealed class ListeningJournal(AcquireStore store, Listening listening, DeviceProfile profile)
{
    private readonly LooseListener _listener = new(listening, profile);
    private readonly List<JournalEntry> _unstored = [];
    private ImmutableArray<LooseReading> _loose = [];
    private int _sequence;
    private bool _begun;

    /// <summary>Gives what happened its number.</summary>
    public void Add(Reception reception)
    {
        var numbered = reception with { Entry = reception.Entry with { Sequence = ++_sequence } };
        _loose = _loose.AddRange(_listener.Take(numbered.Entry));
        _unstored.Add(numbered.Entry);
    }

    /// <summary>Keeps what was added, and gives the readings in it. What could not be kept may be tried again.</summary>
    /// <exception cref="StoreException">It cannot be kept.</exception>
    public async Task<ImmutableArray<LooseReading>> KeepAsync()
    {
        if (!_begun && _unstored.TrueForAll(e => e.Event != JournalEvent.Received))
        {
            return [];
        }

        if (!_begun)
        {
            await store.BeginListeningAsync(listening, CancellationToken.None);
            _begun = true;
        }

        await store.AppendListeningAsync(listening.Id, [.. _unstored], CancellationToken.None);
        _unstored.Clear();
        var kept = _loose;
        _loose = [];
        return kept;
    }
}
