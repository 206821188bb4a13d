using System.Threading.Channels;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Links;

namespace Acquire.Bench.Sessions;

/// <summary>
/// One thing that a guided reading acts on. Instrument, keyboard and clock share one queue, so that their order is settled once.
/// </summary>
internal abstract record BenchInput
{
    public sealed record FromInstrument(Reception Reception) : BenchInput;

    public sealed record FromUser(BenchCommand Command) : BenchInput;

    public sealed record LinkChanged(LinkState State) : BenchInput;

    public sealed record LinkLost(LinkException Fault) : BenchInput;

    /// <summary>An order to the instrument brought no reading, and why.</summary>
    public sealed record OrderEnded(string Message) : BenchInput;

    public sealed record TimeUp : BenchInput;

    public static async Task PumpAsync(IAsyncEnumerable<Reception> events, ChannelWriter<BenchInput> inputs, CancellationToken stop)
    {
        try
        {
            await foreach (var received in events.WithCancellation(stop))
            {
                await inputs.WriteAsync(new FromInstrument(received), stop);
            }

            await inputs.WriteAsync(new LinkLost(new LinkException(LinkFault.Gone, "The instrument ended the connection.")), stop);
        }
        catch (LinkException fault)
        {
            await inputs.WriteAsync(new LinkLost(fault), stop).AsTask().ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        }
        catch (OperationCanceledException)
        {
            // The session has ended.
        }
        catch (Exception fault)
        {
            // A fault of the program: the session must end with it, not wait for lines that will never come.
            inputs.TryComplete(fault);
            throw;
        }
    }

    public static async Task PumpAsync(ChannelReader<BenchCommand> commands, ChannelWriter<BenchInput> inputs, CancellationToken stop)
    {
        try
        {
            await foreach (var command in commands.ReadAllAsync(stop))
            {
                await inputs.WriteAsync(new FromUser(command), stop);
            }
        }
        catch (OperationCanceledException)
        {
            // The session has ended.
        }
    }
}
