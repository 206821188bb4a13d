using System.Collections.Concurrent;
using System.Text;
using Acquire.Instruments.Links;
using Acquire.Instruments.Simulation;

namespace Acquire.Instruments.Tests.Simulation;

/// <summary>A port that keeps what is sent, and whose listeners are counted up by the test.</summary>
internal sealed class RecordingPort : ISimulatedPort
{
    private readonly ConcurrentQueue<byte[]> _sent = new();
    private int _arrivals = 1;

    public LinkAddress Address { get; } = new LinkAddress.Serial("recording");

    public int Arrivals => _arrivals;

    /// <summary>Each write as text.</summary>
    public IEnumerable<string> Writes => _sent.Select(Encoding.Latin1.GetString);

    public string Text => string.Concat(Writes);

    public void ReplaceListener() => _ = Interlocked.Increment(ref _arrivals);

    public Task WaitForListenerAsync(CancellationToken cancellationToken) => Task.CompletedTask;

    public ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellationToken)
    {
        _sent.Enqueue(bytes.ToArray());
        return ValueTask.CompletedTask;
    }

    public ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken) => ValueTask.FromResult(0);

    public ValueTask DisposeAsync() => ValueTask.CompletedTask;
}
