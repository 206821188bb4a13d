using Acquire.Instruments.Lines;
using Acquire.Instruments.Links;
using Acquire.Instruments.Orders;
using Acquire.Instruments.Profiles;
using Acquire.Instruments.Tests.Profiles;
using Microsoft.Extensions.Time.Testing;

namespace Acquire.Instruments.Tests.Orders;

public sealed class InstrumentOrdersTests : IAsyncDisposable
{
    private const string Reading = "R=0.26 G=0.62 B=0.80\r\n";

    private readonly FakeTimeProvider _time = new(new DateTimeOffset(2026, 3, 2, 18, 0, 0, TimeSpan.Zero));
    private readonly TalkingLink _link = new();
    private readonly InstrumentOrders _orders;
    private readonly CancellationTokenSource _stop = CancellationTokenSource.CreateLinkedTokenSource(Token);
    private readonly List<InstrumentEvent> _received = [];
    private Task _reading = Task.CompletedTask;

    public InstrumentOrdersTests() => _orders = new InstrumentOrders(ShippedProfiles.Get("told-to-read"), _time);

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public async ValueTask DisposeAsync()
    {
        await _stop.CancelAsync();
        await _reading;
        _stop.Dispose();
    }

    [Fact]
    public async Task Trigger_is_sent_and_ends_with_the_reading_which_the_reader_gets_too()
    {
        Read();
        var order = _orders.TriggerAsync(Token);
        Assert.Equal("READ\r", _link.Written);
        _link.Send("READ\r\nR=0.26 G=0.");
        _link.Send("62 B=0.80\r\n");
        Assert.Equal((OrderEnd.Answered, ""), Said(await order));
        Assert.Equal([LineMeaning.Ignored, LineMeaning.Reading], _received.Select(r => r.Meaning));
    }

    [Theory]
    [InlineData("DENSITY TOO HIGH\r\n")]
    [InlineData("ERROR 3\r\n")]
    public async Task What_the_instrument_says_instead_of_a_reading_ends_the_wait(string line)
    {
        Read();
        var order = _orders.TriggerAsync(Token);
        _link.Send(line);
        Assert.Equal(OrderEnd.Answered, (await order).End);
    }

    [Fact]
    public async Task Trigger_without_a_reading_is_told_when_its_time_is_over()
    {
        Read();
        var order = _orders.TriggerAsync(Token);
        _time.Advance(TimeSpan.FromSeconds(7.9));
        Assert.False(order.IsCompleted);
        _time.Advance(TimeSpan.FromSeconds(0.2));
        var outcome = await order;
        Assert.Equal(OrderEnd.Unanswered, outcome.End);
        Assert.StartsWith("No reading came within 8 s. See that the instrument is switched on", outcome.Message, StringComparison.Ordinal);

        // A reading that is late is a reading, and the next trigger is sent.
        _link.Send(Reading);
        await UntilAsync(() => _received.Count == 1);
        var again = _orders.TriggerAsync(Token);
        _link.Send(Reading);
        Assert.Equal(OrderEnd.Answered, (await again).End);
        Assert.Equal("READ\rREAD\r", _link.Written);
    }

    [Fact]
    public async Task Garbled_answer_does_not_end_the_wait_and_is_named_when_nothing_better_comes()
    {
        Read();
        var order = _orders.TriggerAsync(Token);
        _link.Send("R=0.26 G#0.62 B=0.80\r\n");
        await UntilAsync(() => _received.Count == 1);
        Assert.Equal(OrderEnd.Refused, (await _orders.TriggerAsync(Token)).End);
        _time.Advance(TimeSpan.FromSeconds(9));
        Assert.Contains("The last line that came was 'R=0.26 G#0.62 B=0.80'.", (await order).Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Second_trigger_while_one_is_under_way_sends_nothing()
    {
        Read();
        var first = _orders.TriggerAsync(Token);
        var second = await _orders.TriggerAsync(Token);
        Assert.Equal(
            (OrderEnd.Refused, "Nothing was sent: the instrument was told before, and its reading is still to come."), Said(second));
        Assert.Equal("READ\r", _link.Written);
        _link.Send(Reading);
        Assert.Equal(OrderEnd.Answered, (await first).End);
    }

    [Fact]
    public async Task Caller_who_stops_waiting_leaves_the_order_under_way()
    {
        Read();
        using var impatient = new CancellationTokenSource();
        var order = _orders.TriggerAsync(impatient.Token);
        await impatient.CancelAsync();
        _ = await Assert.ThrowsAnyAsync<OperationCanceledException>(() => order);
        Assert.Equal(OrderEnd.Refused, (await _orders.TriggerAsync(Token)).End);
        _link.Send(Reading);
        await UntilAsync(() => _received.Count == 1);
        _ = _orders.TriggerAsync(Token);
        Assert.Equal("READ\rREAD\r", _link.Written);
    }

    [Fact]
    public async Task Link_that_goes_while_an_answer_is_awaited_ends_the_wait_at_once()
    {
        Read();
        var order = _orders.TriggerAsync(Token);
        _link.Break();
        var outcome = await order;
        Assert.Equal(OrderEnd.Unanswered, outcome.End);
        Assert.Contains("talking is not read any more", outcome.Message, StringComparison.Ordinal);
        await _reading;
        Assert.Equal(OrderEnd.Refused, (await _orders.TriggerAsync(Token)).End);
        Assert.Equal("READ\r", _link.Written);
    }

    [Fact]
    public async Task Link_that_goes_while_a_command_is_sent_is_told()
    {
        Read();
        _link.Takes = (_, _) => throw new LinkException(LinkFault.Gone, "talking went away.");
        Assert.Equal((OrderEnd.NotSent, "The command could not be sent: talking went away."), Said(await _orders.TriggerAsync(Token)));
    }

    [Fact]
    public async Task Link_that_is_closed_while_a_command_is_sent_is_told_too()
    {
        Read();
        _link.Takes = (_, _) => throw new ObjectDisposedException("talking");
        Assert.Equal(
            (OrderEnd.NotSent, "The command could not be sent: talking was closed while a command was sent."),
            Said(await _orders.TriggerAsync(Token)));
        Assert.Equal("", _link.Written);
    }

    [Fact]
    public async Task Line_that_takes_no_bytes_is_given_up_after_five_seconds()
    {
        Read();
        _link.Takes = (_, token) => Task.Delay(Timeout.InfiniteTimeSpan, TimeProvider.System, token);
        var order = _orders.TriggerAsync(Token);
        _time.Advance(TimeSpan.FromSeconds(4.9));
        Assert.False(order.IsCompleted);
        _time.Advance(TimeSpan.FromSeconds(0.2));
        var outcome = await order;
        Assert.Equal(OrderEnd.NotSent, outcome.End);
        Assert.Contains("talking took no bytes for 5 s; check the instrument's flow control", outcome.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Instrument_says_what_it_is_also_when_its_own_key_is_pressed_meanwhile()
    {
        Read();
        var who = _orders.IdentifyAsync(Token);
        Assert.Contains("its answer is still to come", (await _orders.TriggerAsync(Token)).Message, StringComparison.Ordinal);
        _link.Send($"WHO\r\n{Reading}UNIT 10427 REV 1.2\r\n");
        Assert.Equal(new InstrumentIdentity("10427", "1.2", null), (await who).Identity);
        Assert.Equal("WHO\r", _link.Written);
        Assert.Equal([LineMeaning.Ignored, LineMeaning.Reading, LineMeaning.Ignored], _received.Select(r => r.Meaning));
    }

    [Theory]
    [InlineData("UNIT 10427 RE", "No answer came within 2 s. The last line that came was 'UNIT 10427 RE'.")]
    [InlineData("WHO", "No answer came within 2 s. The last line that came was 'WHO'.")]
    [InlineData("ERROR 9", "The instrument answered with an error: 'ERROR 9'.")]
    public async Task Answer_that_says_nothing_is_told(string line, string message)
    {
        Read();
        var who = _orders.IdentifyAsync(Token);
        _link.Send(line + "\r\n");
        await UntilAsync(() => _received.Count == 1);
        _time.Advance(TimeSpan.FromSeconds(3));
        var outcome = await who;
        Assert.Equal((OrderEnd.Unanswered, null), (outcome.End, outcome.Identity));
        Assert.StartsWith(message, outcome.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Instrument_that_is_not_read_is_sent_nothing()
    {
        var outcome = await _orders.TriggerAsync(Token);
        Assert.Equal(OrderEnd.Refused, outcome.End);
        Assert.Contains("is not connected, so nothing was sent", outcome.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Profile_without_commands_sends_nothing_whatever_is_ordered()
    {
        var orders = new InstrumentOrders(ShippedProfiles.Get("labelled-line"), _time);
        Read(orders);
        Assert.False(orders.CanTrigger || orders.CanIdentify);
        Assert.Contains("no trigger command", (await orders.TriggerAsync(Token)).Message, StringComparison.Ordinal);
        Assert.Equal(OrderEnd.Refused, (await orders.IdentifyAsync(Token)).End);
        Assert.Equal("", _link.Written);
    }

    private static (OrderEnd End, string Message) Said(OrderOutcome outcome) => (outcome.End, outcome.Message);

    private static async Task UntilAsync(Func<bool> holds)
    {
        while (!holds())
        {
            await Task.Delay(TimeSpan.FromMilliseconds(1), TimeProvider.System, Token);
        }
    }

    private void Read(InstrumentOrders? orders = null)
    {
        // Begun when it returns: the first entry, the opening, comes without a wait.
        _reading = ReadAsync(orders ?? _orders);
    }

    private async Task ReadAsync(InstrumentOrders orders)
    {
        try
        {
            await foreach (var reception in orders.ReceiveAllAsync(_link, _stop.Token))
            {
                _received.AddRange(reception.Events);
            }
        }
        catch (Exception e) when (e is LinkException or OperationCanceledException)
        {
            // The link is gone, or the test is over.
        }
    }
}
