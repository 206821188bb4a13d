using System.Runtime.CompilerServices;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Links;
using Acquire.Instruments.Profiles;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Logging.Abstractions;

namespace Acquire.Instruments.Orders;

/// <summary>Tells one instrument to read, and asks it what it is, while somebody reads its link through <see cref="ReceiveAllAsync"/>. It
/// takes no line away: what an order brings comes to the reader as everything does. Only what the profile has a command for is ever sent,
/// and one order is under way at a time. Any task may give orders.</summary>
public sealed class InstrumentOrders(DeviceProfile profile, TimeProvider time, ILogger? logger = null)
{
    private readonly Order? _trigger = Order.Trigger(profile);
    private readonly Order? _identify = Order.Identify(profile);
    private readonly ILogger _logger = logger ?? NullLogger.Instance;
    private readonly Lock _change = new();
    private IByteLink? _link;
    private volatile OrderUnderWay? _underWay;

    public bool CanTrigger => _trigger is not null;

    public bool CanIdentify => _identify is not null;

    /// <summary>As <see cref="InstrumentReader.ReceiveAllAsync"/>; orders go to this link until the reading ends.</summary>
    /// <exception cref="LinkException">The link broke or ended.</exception>
    /// <exception cref="OperationCanceledException">The token was cancelled.</exception>
    public async IAsyncEnumerable<Reception> ReceiveAllAsync(IByteLink link, [EnumeratorCancellation] CancellationToken cancellationToken)
    {
        SetLink(link);
        try
        {
            await foreach (var reception in InstrumentReader.ReceiveAllAsync(link, profile, time, cancellationToken))
            {
                foreach (var received in reception.Events)
                {
                    _underWay?.See(received);
                }

                yield return reception;
            }
        }
        finally
        {
            SetLink(null);
        }
    }

    /// <summary>Lets the instrument read; ends when the reading has come or its time is over. An order that was sent stays under way until
    /// then, also when the caller stops waiting: the instrument is still at it, and a second one would read twice.</summary>
    /// <exception cref="OperationCanceledException">The token was cancelled.</exception>
    public Task<OrderOutcome> TriggerAsync(CancellationToken cancellationToken) => GiveAsync(
        _trigger,
        $"Profile '{profile.Name}' has no trigger command, so nothing was sent. Press the instrument's own key.",
        cancellationToken);

    /// <summary>Asks the instrument what it is; the outcome has its identity when it answered.</summary>
    /// <exception cref="OperationCanceledException">The token was cancelled.</exception>
    public Task<OrderOutcome> IdentifyAsync(CancellationToken cancellationToken) => GiveAsync(
        _identify, $"Profile '{profile.Name}' has no command that asks the instrument what it is, so nothing was sent.", cancellationToken);

    private Task<OrderOutcome> GiveAsync(Order? order, string without, CancellationToken cancellationToken)
    {
        if (order is null)
        {
            return Refused(without);
        }

        OrderUnderWay given;
        lock (_change)
        {
            if (_link is not { } link)
            {
                return Refused("The instrument is not connected, so nothing was sent. Order again when it is back.");
            }

            if (_underWay is { IsOver: false, Order.What: var what })
            {
                return Refused($"Nothing was sent: the instrument was told before, and its {what} is still to come.");
            }

            _underWay = given = new OrderUnderWay(order, link);
        }

        return FollowAsync(given).WaitAsync(cancellationToken);
    }

    private static Task<OrderOutcome> Refused(string message) => Task.FromResult(new OrderOutcome(OrderEnd.Refused, message));

    /// <summary>Not cancellable: half a command breaks the link, which others may go on reading.</summary>
    private async Task<OrderOutcome> FollowAsync(OrderUnderWay given)
    {
        try
        {
            await OrderBytes.SendAsync(given.Link, given.Order.Bytes, time, _logger, CancellationToken.None);
            given.HasBeenSent();
            return await given.End.WaitAsync(given.Order.Within, time, CancellationToken.None);
        }
        catch (LinkException fault)
        {
            return new OrderOutcome(OrderEnd.NotSent, $"The command could not be sent: {fault.Message}");
        }
        catch (TimeoutException)
        {
            return given.Late;
        }
        finally
        {
            _ = Interlocked.CompareExchange(ref _underWay, null, given);
        }
    }

    private void SetLink(IByteLink? link)
    {
        lock (_change)
        {
            _link = link;
        }

        _underWay?.LinkEnded();
    }
}
