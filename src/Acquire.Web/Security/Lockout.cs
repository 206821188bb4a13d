namespace Acquire.Web.Security;

/// <summary>
/// Makes whoever tries tokens wait, longer with each failure. It forgets after an hour, and knows only so many addresses, so that it cannot
/// be filled.
/// </summary>
internal sealed class Lockout(TimeProvider time)
{
    /// <summary>A slip of the hand costs nothing.</summary>
    public const int Free = 5;

    /// <summary>How many addresses are known at most.</summary>
    public const int MostPeers = 10_000;

    /// <summary>The longest wait.</summary>
    public static readonly TimeSpan Most = TimeSpan.FromMinutes(15);

    /// <summary>On this computer other users share the address, so a wait would hit those who may.</summary>
    public static readonly TimeSpan MostHere = TimeSpan.FromSeconds(30);

    private static readonly TimeSpan First = TimeSpan.FromSeconds(1);
    private static readonly TimeSpan Memory = TimeSpan.FromHours(1);
    private readonly Dictionary<string, Entry> _peers = [];
    private readonly Lock _lock = new();

    /// <summary>How many addresses are known now.</summary>
    public int Known
    {
        get
        {
            lock (_lock)
            {
                return _peers.Count;
            }
        }
    }

    /// <summary>How long the peer has to wait yet; null when it need not.</summary>
    public TimeSpan? Left(Peer peer)
    {
        lock (_lock)
        {
            return _peers.TryGetValue(peer.Key, out var entry) && entry.Until - time.GetUtcNow() is var left && left > TimeSpan.Zero
                ? left
                : null;
        }
    }

    /// <summary>Counts a failure.</summary>
    /// <returns>How long the peer has to wait now; zero while it is free.</returns>
    public TimeSpan Failed(Peer peer)
    {
        var now = time.GetUtcNow();
        lock (_lock)
        {
            var before = _peers.TryGetValue(peer.Key, out var entry) && now - entry.Last < Memory ? entry.Failures : 0;
            if (entry is null && _peers.Count >= MostPeers)
            {
                MakeRoom(now);
            }

            var wait = WaitAfter(before + 1, peer.IsHere ? MostHere : Most);
            _peers[peer.Key] = new Entry(before + 1, now, now + wait);
            return wait;
        }
    }

    /// <summary>Forgets the failures of a peer that showed what it needs.</summary>
    public void Passed(Peer peer)
    {
        lock (_lock)
        {
            _ = _peers.Remove(peer.Key);
        }
    }

    private static TimeSpan WaitAfter(int failures, TimeSpan most) =>
        failures < Free
            ? TimeSpan.Zero
            : TimeSpan.FromSeconds(Math.Min(Math.Pow(2, failures - Free) * First.TotalSeconds, most.TotalSeconds));

    /// <summary>Forgets the half that has been quiet longest; whoever still waits goes last.</summary>
    private void MakeRoom(DateTimeOffset now)
    {
        var quietest = _peers.OrderBy(p => p.Value.Until > now).ThenBy(p => p.Value.Last).Take(MostPeers / 2);
        foreach (var (key, _) in quietest.ToList())
        {
            _ = _peers.Remove(key);
        }
    }

    private sealed record Entry(int Failures, DateTimeOffset Last, DateTimeOffset Until);
}
