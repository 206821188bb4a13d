using System.Collections.Concurrent;
using Acquire.Instruments.Simulation;

namespace Acquire.Instruments.Tests.Simulation;

/// <summary>Keeps the readings that are reported, at once and in order.</summary>
internal sealed class ReadingList(Action<SimulatedReading>? also = null) : IProgress<SimulatedReading>
{
    private readonly ConcurrentQueue<SimulatedReading> _readings = new();

    public SimulatedReading[] All => [.. _readings];

    public void Report(SimulatedReading value)
    {
        _readings.Enqueue(value);
        also?.Invoke(value);
    }
}
