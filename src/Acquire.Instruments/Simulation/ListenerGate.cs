namespace Acquire.Instruments.Simulation;

/// <summary>Lets waiters through while somebody listens, and turns them away once the port is closed.</summary>
internal sealed class ListenerGate
{
    private readonly Lock _change = new();
    private TaskCompletionSource _open = Closed();
    private bool _ended;

    /// <summary>Whether somebody listens.</summary>
    public bool IsOpen => _open.Task.IsCompletedSuccessfully;

    /// <summary>How many listeners have come so far.</summary>
    public int Arrivals { get; private set; }

    /// <summary>Notes whether somebody listens.</summary>
    public void Set(bool listening)
    {
        lock (_change)
        {
            if (_ended || listening == IsOpen)
            {
                return;
            }

            if (listening)
            {
                Arrivals++;
                _open.SetResult();
            }
            else
            {
                _open = Closed();
            }
        }
    }

    /// <summary>Ends all waiting: the port is closed.</summary>
    public void End()
    {
        lock (_change)
        {
            _ended = true;
            _open = IsOpen ? Closed() : _open;
            _ = _open.TrySetException(new ObjectDisposedException("simulated port", "The simulated port was closed."));
            _ = _open.Task.Exception; // seen, whether or not somebody waits
        }
    }

    /// <summary>Waits for a listener.</summary>
    /// <exception cref="ObjectDisposedException">The port was closed.</exception>
    public async Task WaitAsync(CancellationToken cancellationToken)
    {
        // Anew each time: the listener of a moment ago may have left.
        while (!IsOpen)
        {
            await Volatile.Read(ref _open).Task.WaitAsync(cancellationToken);
        }
    }

    private static TaskCompletionSource Closed() => new(TaskCreationOptions.RunContinuationsAsynchronously);
}
