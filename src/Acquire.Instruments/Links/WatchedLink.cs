namespace Acquire.Instruments.Links;

/// <summary>A link that notes whether anything has come, and tells when nothing does.</summary>
internal sealed class WatchedLink(IByteLink inner, TimeSpan firstSilence, Func<LinkState, ValueTask> tell, TimeProvider time) : IByteLink
{
    private readonly long _opened = time.GetTimestamp();
    private long? _lastByte;
    private int _doublings;

    public string Name => inner.Name;

    public ImmutableArray<string> Notices => inner.Notices;

    /// <summary>Whether any byte has come.</summary>
    public bool HasReceived => _lastByte is not null;

    /// <summary>How long it has been open.</summary>
    public TimeSpan Age => time.GetElapsedTime(_opened);

    private TimeSpan NextSilence => firstSilence * Math.Pow(2, _doublings);

    public async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken)
    {
        var read = inner.ReadAsync(buffer, cancellationToken);
        var count = read.IsCompleted ? await read : await WaitAsync(read.AsTask());
        _lastByte = time.GetTimestamp();
        _doublings = 0;
        return count;
    }

    public ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellationToken) =>
        inner.WriteAsync(bytes, cancellationToken);

    public ValueTask DisposeAsync() => inner.DisposeAsync();

    private async Task<int> WaitAsync(Task<int> read)
    {
        while (true)
        {
            var left = NextSilence - time.GetElapsedTime(_lastByte ?? _opened);
            await ((Task)read.WaitAsync(left > TimeSpan.Zero ? left : TimeSpan.Zero, time)).ConfigureAwait(
                ConfigureAwaitOptions.SuppressThrowing);
            if (read.IsCompleted)
            {
                return await read;
            }

            await tell(new LinkState.Silent(inner.Name, NextSilence));
            _doublings++;
        }
    }
}
