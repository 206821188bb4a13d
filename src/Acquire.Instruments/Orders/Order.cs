using Acquire.Instruments.Lines;
using Acquire.Instruments.Links;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Orders;

/// <summary>A kind of order that can be given to an instrument, and how it is told that it has ended.</summary>
/// <param name="What">What comes of it, as in "no reading came".</param>
/// <param name="Within">Within how long it must have come.</param>
/// <param name="EndOf">The end that a line brings; null when it brings none.</param>
/// <param name="IsStray">Whether a line that brings no end may be a garbled one that should have.</param>
/// <param name="Remedy">What to do when it does not come.</param>
internal sealed record Order(
    string What,
    ImmutableArray<byte> Bytes, TimeSpan Within, Func<InstrumentEvent, OrderOutcome?> EndOf, Func<InstrumentEvent, bool> IsStray,
    string Remedy)
{
    public static Order? Trigger(DeviceProfile profile) => profile.Commands.Trigger is not { } command ? null : new Order(
        "reading",
        command.Bytes,
        command.Within,
        // A line that fits nothing is no end: it may be an echo, and the reading still on its way.
        received => received is InstrumentEvent.ReadingTaken or InstrumentEvent.BeyondRange or InstrumentEvent.InstrumentError
            ? OrderOutcome.Answered
            : null,
        received => received is InstrumentEvent.UnmatchedLine,
        "See that the instrument is switched on, ready, and has film under its aperture; a reading that still comes counts. Then trigger "
        + "again, or press the instrument's own key.");

    public static Order? Identify(DeviceProfile profile)
    {
        if (profile.Commands.Identify is not { } command)
        {
            return null;
        }

        var answer = new AnswerMatcher(command, profile.Number);
        return new Order(
            "answer",
            command.Bytes,
            command.Within,
            received => received switch
            {
                InstrumentEvent.InstrumentError { Line: var line } => new OrderOutcome(
                    OrderEnd.Unanswered, $"The instrument answered with an error: '{line.Text.Trim()}'."),
                // A line that was cut or garbled on the way may look like an answer with characters missing.
                InstrumentEvent.IgnoredLine { Line: var line } when answer.Match(line.Bytes.AsSpan()) is { } identity =>
                    OrderOutcome.Answered with { Identity = identity },
                _ => null,
            },
            received => received is InstrumentEvent.UnmatchedLine or InstrumentEvent.IgnoredLine,
            "See that the instrument is switched on and that its profile has the right command and answer.");
    }
}

/// <summary>An order that was given and has not ended. Lines are shown to it in their order; it ends once.</summary>
/// <param name="link">Where it is sent.</param>
internal sealed class OrderUnderWay(Order order, IByteLink link)
{
    private readonly TaskCompletionSource<OrderOutcome> _end = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private volatile string? _stray;
    private volatile bool _isSent;

    public Order Order => order;

    public IByteLink Link => link;

    public Task<OrderOutcome> End => _end.Task;

    /// <summary>All of it has been sent; what comes of it may have come before that is known.</summary>
    public void HasBeenSent() => _isSent = true;

    /// <summary>Whether the next order may be given.</summary>
    public bool IsOver => _isSent && _end.Task.IsCompleted;

    public OrderOutcome Late => new(
        OrderEnd.Unanswered,
        string.Create(CultureInfo.InvariantCulture, $"No {order.What} came within {order.Within.TotalSeconds:0.###} s. ")
        + (_stray is { } text ? $"The last line that came was '{text}'. " : "")
        + order.Remedy);

    public void See(InstrumentEvent received)
    {
        if (order.EndOf(received) is { } outcome)
        {
            _ = _end.TrySetResult(outcome);
        }
        else if (order.IsStray(received))
        {
            _stray = received.Line.Text.Trim();
        }
    }

    public void LinkEnded() => _ = _end.TrySetResult(
        new OrderOutcome(OrderEnd.Unanswered, $"{link.Name} is not read any more; the {order.What} that was ordered did not come before."));
}
