using System.Collections.Concurrent;

namespace Acquire.Bench.Service;

/// <summary>
/// Whether the loops of the instruments run: what the answer to "are you ready?" rests on. A loop that waits for a missing instrument runs;
/// one that has not begun, or that a fault has ended, does not. May be used from any thread.
/// </summary>
public sealed class StationBoard
{
    private readonly ConcurrentDictionary<string, string> _notRunning = new();

    /// <summary>The instruments that have no loop though they should, each with why.</summary>
    public IReadOnlyDictionary<string, string> NotRunning => _notRunning;

    /// <summary>The instrument is in use: its loop is about to begin.</summary>
    public void Expects(string instrument) => _notRunning[instrument] = "It has not begun yet.";

    /// <summary>The loop of an instrument runs, perhaps again.</summary>
    public void Runs(string instrument) => _notRunning.TryRemove(instrument, out _);

    /// <summary>A fault has ended the loop of an instrument.</summary>
    public void HasEnded(string instrument, Exception fault) => _notRunning[instrument] = fault.Message;

    /// <summary>The instrument is retired: nothing is expected of it any more.</summary>
    public void Forget(string instrument) => _notRunning.TryRemove(instrument, out _);
}
