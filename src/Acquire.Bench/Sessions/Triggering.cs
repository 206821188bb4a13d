using System.Threading.Channels;
using Acquire.Bench.Guidance;
using Acquire.Instruments.Orders;

namespace Acquire.Bench.Sessions;

/// <summary>Lets the instrument read when the user says so, beside the loop that takes what comes: a line that takes no bytes for a while,
/// or a reading that is long in coming, must not keep the session from anything else.</summary>
/// <remarks>The journal keeps nothing of it. What the instrument then sends is in the journal as everything it sends, and that alone makes
/// the strip; a session that is rebuilt must neither wait for an order of yesterday nor give it again.</remarks>
internal sealed class Triggering(InstrumentOrders? orders, ChannelWriter<BenchInput> inputs, CancellationToken stop)
{
    /// <summary>Ends soon after the session does.</summary>
    public Task Ended { get; private set; } = Task.CompletedTask;

    /// <summary>Gives the order; what there is to say of it comes as an input. Nothing is to be said when a reading comes.</summary>
    /// <param name="strip">The strip as it stands.</param>
    public void Begin(GuidedStrip strip) => Ended = Task.WhenAll(Ended, RunAsync(strip));

    private async Task RunAsync(GuidedStrip strip)
    {
        try
        {
            var outcome = strip.IsComplete ? Needless("All patches are read, so nothing was sent.")
                : orders is null ? Needless("There is no instrument here that could be told to read.")
                : await orders.TriggerAsync(stop);
            if (outcome.End != OrderEnd.Answered)
            {
                await inputs.WriteAsync(new BenchInput.OrderEnded(outcome.Message), stop);
            }
        }
        catch (OperationCanceledException)
        {
            // The session has ended.
        }
    }

    private static OrderOutcome Needless(string message) => new(OrderEnd.Refused, message);
}
