using System.Runtime.CompilerServices;
using Acquire.Bench.Sessions;

namespace Acquire.Bench.Service;

/// <summary>Something that a session's watchers are to see.</summary>
/// <param name="Sequence">The number of the journal's last entry that is in it. Numbers only grow, and a restart keeps them.</param>
/// <param name="Shown">What is shown, in its order.</param>
/// <param name="State">The session after it.</param>
/// <param name="Moved">Whether the session went on by it; what only tells of the link does not move it.</param>
public sealed record LiveEvent(int Sequence, ImmutableArray<BenchUpdate> Shown, LiveState State, bool Moved);

/// <summary>
/// What a session showed, for watchers who come, go and come back. They all read one list, each at its own pace, so that a slow one holds
/// up nobody and costs nothing. Of a very long session the oldest events go; who missed those gets the state as it is.
/// </summary>
public sealed class LiveEvents
{
    private const int Most = 4000;
    private readonly Lock _lock = new();
    private readonly ChangeSignal _changed = new();
    private readonly List<LiveEvent> _events = [];
    private long _dropped;
    private bool _isOver;

    public void Add(LiveEvent happened)
    {
        lock (_lock)
        {
            _events.Add(happened);
            if (_events.Count > Most)
            {
                _dropped += Most / 4;
                _events.RemoveRange(0, Most / 4);
            }
        }

        _changed.Tell();
    }

    /// <summary>Nothing more comes.</summary>
    public void End()
    {
        lock (_lock)
        {
            _isOver = true;
        }

        _changed.Tell();
    }

    /// <summary>All that happened behind a number of the journal, as far as it is still there.</summary>
    public ImmutableArray<LiveEvent> Since(int sequence)
    {
        lock (_lock)
        {
            return [.. _events.Where(e => e.Moved && e.Sequence > sequence)];
        }
    }

    /// <summary>Everything behind a number of the journal, and then what comes, until the session is over.</summary>
    /// <param name="after">The number that the watcher has seen; 0 for all from the beginning.</param>
    public async IAsyncEnumerable<LiveEvent> FollowAsync(int after, [EnumeratorCancellation] CancellationToken cancellationToken)
    {
        var position = PositionAfter(after);
        while (true)
        {
            var changed = _changed.Next;
            var (events, next, isOver) = From(position);
            foreach (var happened in events)
            {
                yield return happened;
            }

            position = next;
            if (isOver)
            {
                yield break;
            }

            await changed.WaitAsync(cancellationToken);
        }
    }

    /// <summary>Behind the last event that the watcher has seen; what only told of the link then comes again, which does no harm.</summary>
    private long PositionAfter(int sequence)
    {
        lock (_lock)
        {
            return sequence <= 0 ? 0 : _dropped + _events.FindLastIndex(e => e.Moved && e.Sequence <= sequence) + 1;
        }
    }

    private (ImmutableArray<LiveEvent> Events, long Next, bool IsOver) From(long position)
    {
        lock (_lock)
        {
            var from = (int)Math.Max(0, position - _dropped);
            return ([.. _events.Skip(from)], _dropped + _events.Count, _isOver);
        }
    }
}
