using System.Threading.Channels;
using Acquire.Instruments.Profiles;
using Channel = System.Threading.Channels.Channel;

namespace Acquire.Instruments.Simulation;

/// <summary>What a simulated instrument is told through its port. It listens as a real one does: to bytes, in whatever pieces they come,
/// and only once it has been set up as its profile says.</summary>
/// <param name="deaf">The probability that an order is not obeyed.</param>
internal sealed class SimulatedOrders(ProfileCommands commands, ISimulatedPort port, double deaf, SeededChance chance)
{
    // One at a time: what comes while a reading is due is not counted.
    private readonly Channel<bool> _told = OneAtATime();
    private readonly Channel<bool> _asked = OneAtATime();

    /// <summary>Whether there is anything that it could be told.</summary>
    public bool Any { get; } = commands.All.Any();

    /// <summary>Ends when it is told to read; that stands until <see cref="Begun"/>.</summary>
    public Task ToldAsync(CancellationToken cancellationToken) => _told.Reader.WaitToReadAsync(cancellationToken).AsTask();

    /// <summary>A reading begins.</summary>
    public void Begun() => _ = _told.Reader.TryRead(out _);

    /// <summary>Ends when it is asked what it is; that stands until <see cref="TakeQuestion"/>.</summary>
    public Task AskedAsync(CancellationToken cancellationToken) => _asked.Reader.WaitToReadAsync(cancellationToken).AsTask();

    /// <summary>Whether it was asked; it is about to answer.</summary>
    public bool TakeQuestion() => _asked.Reader.TryRead(out _);

    /// <summary>Listens until the port is closed or the token is cancelled.</summary>
    public async Task ListenAsync(CancellationToken cancellationToken)
    {
        if (!Any)
        {
            return;
        }

        var (heard, buffer, arrivals) = (new HeardCommands(commands), new byte[256], port.Arrivals);
        try
        {
            while (await port.ReadAsync(buffer, cancellationToken) is > 0 and var count)
            {
                // A port that was opened anew is set up anew, and half a command from before is forgotten.
                (heard, arrivals) = arrivals == port.Arrivals ? (heard, arrivals) : (new HeardCommands(commands), port.Arrivals);
                foreach (var order in heard.Take(buffer.AsSpan(0, count)).Where(_ => !chance.Happens(deaf)))
                {
                    _ = (order == HeardOrder.Trigger ? _told : _asked).Writer.TryWrite(true);
                }
            }
        }
        catch (Exception e) when (e is OperationCanceledException or ObjectDisposedException)
        {
            // The simulation has ended.
        }
    }

    private static Channel<bool> OneAtATime() =>
        Channel.CreateBounded<bool>(new BoundedChannelOptions(1) { FullMode = BoundedChannelFullMode.DropWrite });
}

internal enum HeardOrder
{
    Trigger,
    Identify,
}

/// <summary>Finds commands in the bytes that come, one link from its opening.</summary>
internal sealed class HeardCommands(ProfileCommands commands)
{
    private const int Longest = 1024;
    private readonly List<byte> _bytes = [];
    private int _setUp;

    /// <summary>The orders that these bytes complete. What stands before a command is passed over; what comes before the instrument has
    /// been set up is not obeyed.</summary>
    public IReadOnlyList<HeardOrder> Take(ReadOnlySpan<byte> bytes)
    {
        _bytes.AddRange(bytes);
        var orders = new List<HeardOrder>();
        while (Next() is var (end, order, isSetUp))
        {
            var isReady = _setUp == commands.AfterOpening.Length;
            _setUp += isSetUp ? 1 : 0;
            _bytes.RemoveRange(0, end);
            if (order is { } given && isReady)
            {
                orders.Add(given);
            }
        }

        _bytes.RemoveRange(0, Math.Max(0, _bytes.Count - Longest));
        return orders;
    }

    /// <summary>The command that begins first, and of those the longest.</summary>
    private (int End, HeardOrder? Order, bool IsSetUp)? Next()
    {
        var all = _bytes.ToArray();
        (int Start, int End, HeardOrder? Order, bool IsSetUp)[] found =
        [
            .. from command in Known()
               let start = all.AsSpan().IndexOf(command.Bytes.AsSpan())
               where start >= 0
               orderby start, command.Bytes.Length descending
               select (start, start + command.Bytes.Length, command.Order, command.IsSetUp),
        ];
        return found is [var first, ..] ? (first.End, first.Order, first.IsSetUp) : null;
    }

    private IEnumerable<(ImmutableArray<byte> Bytes, HeardOrder? Order, bool IsSetUp)> Known()
    {
        if (_setUp < commands.AfterOpening.Length)
        {
            yield return (commands.AfterOpening[_setUp].Bytes, null, true);
        }

        if (commands.Trigger is { } trigger)
        {
            yield return (trigger.Bytes, HeardOrder.Trigger, false);
        }

        if (commands.Identify is { } identify)
        {
            yield return (identify.Bytes, HeardOrder.Identify, false);
        }
    }
}
