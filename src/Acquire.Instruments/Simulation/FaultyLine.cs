namespace Acquire.Instruments.Simulation;

/// <summary>Sends lines through a port with the faults of a bad cable.</summary>
internal sealed class FaultyLine(ISimulatedPort port, SimulatedFaults faults, SeededChance chance, TimeProvider time)
{
    /// <summary>Sends one line, and says what went wrong with it.</summary>
    public async ValueTask<ReadingFaults> SendAsync(byte[] line, CancellationToken cancellationToken)
    {
        var happened = ReadingFaults.None;
        if (line.Length > 0 && chance.Happens(faults.Garble))
        {
            line = [.. line];
            line[chance.Below(line.Length)] ^= (byte)(1 << chance.Below(8));
            happened |= ReadingFaults.Garbled;
        }

        if (line.Length > 1 && chance.Happens(faults.Split))
        {
            var cut = 1 + chance.Below(line.Length - 1);
            await port.WriteAsync(line.AsMemory(0, cut), cancellationToken);
            await Task.Delay(faults.SplitGap, time, cancellationToken);
            await port.WriteAsync(line.AsMemory(cut), cancellationToken);
            return happened | ReadingFaults.Split;
        }

        await port.WriteAsync(line, cancellationToken);
        return happened;
    }
}
