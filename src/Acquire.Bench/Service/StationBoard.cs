using System.Collections.Concurrent;

namespace Acquire.Bench.Service;

/// <summary>
/// Whether the loops of the instruments run: what the answer to "are you ready?" rests on. A loop that waits for a missing instrument runs;
/// one that a fault has ended does not. May be used from any thread.
/// </summary>
public sealed class StationBoard
{
    private readonly ConcurrentDictionary<string, string> _ended = new();
    private volatile bool _haveBegun;

    /// <summary>Whether every instrument that the store knew at the start has its loop.</summary>
    public bool HaveBegun => _haveBegun;

    /// <summary>The instruments whose loop ended though it should run, each with why.</summary>
    public IReadOnlyDictionary<string, string> Ended => _ended;

    /// <summary>All loops have been begun; told once, also where there is no instrument yet.</summary>
    public void AllBegan() => _haveBegun = true;

    /// <summary>The loop of an instrument runs, perhaps again.</summary>
    public void Runs(string instrument) => _ended.TryRemove(instrument, out _);

    /// <summary>A fault has ended the loop of an instrument.</summary>
    public void HasEnded(string instrument, Exception fault) => _ended[instrument] = fault.Message;

    /// <summary>The instrument is retired: nothing is expected of it any more.</summary>
    public void Forget(string instrument) => _ended.TryRemove(instrument, out _);
}
