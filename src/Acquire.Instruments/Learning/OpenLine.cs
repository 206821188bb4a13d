using Acquire.Instruments.Captures;
using Acquire.Instruments.Links;

namespace Acquire.Instruments.Learning;

/// <summary>A port that is open with certain settings, and listened to.</summary>
internal sealed class OpenLine : IAsyncDisposable
{
    /// <summary>Opening a port may make a byte or two of noise; nobody presses a key so soon.</summary>
    private static readonly TimeSpan Settling = TimeSpan.FromMilliseconds(250);

    private readonly IByteLink _link;

    private OpenLine(IByteLink link, LinkSettings settings, TimeProvider time) =>
        (_link, Settings, Reader) = (link, settings, new BurstReader(link, time));

    public LinkSettings Settings { get; }

    public BurstReader Reader { get; }

    /// <summary>Opens a port, passes over what comes at once, and says what the user should know about how it was opened.</summary>
    /// <exception cref="LinkException">It cannot be opened.</exception>
    public static async Task<OpenLine> OpenAsync(
        ILinkOpener opener, LinkAddress address, LinkSettings settings, ILearningDesk desk, TimeProvider time,
        CancellationToken cancellationToken)
    {
        var line = new OpenLine(await opener.OpenAsync(address, settings, cancellationToken), settings, time);
        try
        {
            // What waits in the port, or comes as its lines rise, is no answer to a key that nobody has pressed yet.
            _ = await line.Reader.NextAsync(Settling, Settling, cancellationToken);
            foreach (var notice in line._link.Notices)
            {
                desk.Say(notice);
            }

            return line;
        }
        catch
        {
            await line.DisposeAsync();
            throw;
        }
    }

    public async ValueTask DisposeAsync()
    {
        await Reader.DisposeAsync();
        await _link.DisposeAsync();
    }
}

/// <summary>Cuts what comes over a link into bursts by the silence between them. A read is always under way, so that what comes while
/// nobody waits is noticed. For one task at a time; the link is not disposed.</summary>
internal sealed class BurstReader : IAsyncDisposable
{
    private const int ChunkSize = 1024;

    /// <summary>More than any reading has.</summary>
    private const int MostBytes = 8 * 1024;
    private static readonly TimeSpan Longest = TimeSpan.FromSeconds(20);

    private readonly CancellationTokenSource _closing = new();
    private readonly DateTimeOffset _begun;
    private readonly long _began;
    private readonly IByteLink _link;
    private readonly TimeProvider _time;
    private Task<CaptureChunk> _next;
    private bool _disposed;

    public BurstReader(IByteLink link, TimeProvider time)
    {
        (_link, _time, _begun, _began) = (link, time, time.GetUtcNow(), time.GetTimestamp());
        _next = ReadAsync();
    }

    /// <summary>Waits for a burst and for its end.</summary>
    /// <param name="patience">How long to wait for its first byte.</param>
    /// <param name="quiet">The silence that ends it.</param>
    /// <returns>The burst; null when nothing came.</returns>
    /// <exception cref="LinkException">The link broke.</exception>
    public async Task<Burst?> NextAsync(TimeSpan patience, TimeSpan quiet, CancellationToken cancellationToken)
    {
        List<CaptureChunk> chunks = [];
        var bytes = 0;
        while (await ArrivesAsync(chunks.Count == 0 ? patience : quiet, cancellationToken))
        {
            chunks.Add(await _next);
            _next = ReadAsync();
            bytes += chunks[^1].Bytes.Length;
            if (bytes > MostBytes || chunks[^1].At - chunks[0].At > Longest)
            {
                return new Burst([.. chunks], IsEndless: true);
            }
        }

        return chunks.Count == 0 ? null : new Burst([.. chunks], IsEndless: false);
    }

    /// <summary>What has come since the last burst ended, without waiting for anything to begin; null for nothing.</summary>
    /// <exception cref="LinkException">The link broke.</exception>
    public Task<Burst?> SinceAsync(TimeSpan quiet, CancellationToken cancellationToken) =>
        _next.IsCompleted ? NextAsync(quiet, quiet, cancellationToken) : Task.FromResult<Burst?>(null);

    public async ValueTask DisposeAsync()
    {
        if (_disposed)
        {
            return;
        }

        _disposed = true;
        await _closing.CancelAsync();
        await ((Task)_next).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        _closing.Dispose();
    }

    private async Task<CaptureChunk> ReadAsync()
    {
        var buffer = new byte[ChunkSize];
        var count = await _link.ReadAsync(buffer, _closing.Token);
        return new CaptureChunk(_begun + _time.GetElapsedTime(_began), [.. buffer.AsSpan(0, count)]);
    }

    /// <summary>Waits for the chunk that is being read; the read itself goes on.</summary>
    private async Task<bool> ArrivesAsync(TimeSpan within, CancellationToken cancellationToken)
    {
        cancellationToken.ThrowIfCancellationRequested();
        try
        {
            await ((Task)_next).WaitAsync(within, _time, cancellationToken);
            return true;
        }
        catch (TimeoutException) when (!_next.IsFaulted)
        {
            // It may have arrived in the moment in which the wait gave up.
            return _next.IsCompleted;
        }
    }
}
