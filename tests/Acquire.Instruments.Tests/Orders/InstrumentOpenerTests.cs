using Acquire.Instruments.Lines;
using Acquire.Instruments.Links;
using Acquire.Instruments.Orders;
using Acquire.Instruments.Profiles;
using Acquire.Instruments.Tests.Profiles;
using Microsoft.Extensions.Time.Testing;

namespace Acquire.Instruments.Tests.Orders;

public sealed class InstrumentOpenerTests
{
    private static readonly LinkAddress Somewhere = new LinkAddress.Serial("somewhere");

    private static readonly DeviceProfile TwoSteps = ShippedProfiles.Get("told-to-read") with
    {
        Commands = new ProfileCommands
        {
            AfterOpening = [
                new(ByteText.Parse("<CR>"), TimeSpan.FromMilliseconds(100)), new(ByteText.Parse("ON<CR>"), TimeSpan.FromSeconds(1))],
        },
    };

    private readonly FakeTimeProvider _time = new();

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Commands_are_sent_in_their_order_with_their_pauses_before_the_link_is_handed_out()
    {
        var link = new TalkingLink();
        var opening = new InstrumentOpener(new Opener(link), TwoSteps, _time).OpenAsync(Somewhere, new(), Token).AsTask();
        Assert.Equal("\r", link.Written);
        _time.Advance(TimeSpan.FromMilliseconds(99));
        Assert.Equal("\r", link.Written);
        _time.Advance(TimeSpan.FromMilliseconds(1));
        while (link.Written.Length < 4)
        {
            await Task.Yield();
        }

        Assert.False(opening.IsCompleted);
        while (!opening.IsCompleted)
        {
            _time.Advance(TimeSpan.FromSeconds(1));
            await Task.Yield();
        }

        Assert.Same(link, await opening);
        Assert.Equal("\rON\r", link.Written);
        Assert.False(link.IsDisposed);
    }

    [Fact]
    public async Task Nothing_is_sent_where_the_profile_says_nothing()
    {
        var link = new TalkingLink();
        Assert.Same(link, await new InstrumentOpener(new Opener(link), ShippedProfiles.Get("labelled-line"), _time).OpenAsync(
            Somewhere, new(), Token));
        Assert.Equal("", link.Written);
    }

    [Fact]
    public async Task Link_that_breaks_in_the_middle_of_a_command_is_closed_and_the_fault_told()
    {
        var link = new TalkingLink { Takes = (_, _) => throw new LinkException(LinkFault.Gone, "talking went away.") };
        var opener = new InstrumentOpener(new Opener(link), TwoSteps, _time);
        var fault = await Assert.ThrowsAsync<LinkException>(async () => await opener.OpenAsync(Somewhere, new(), Token));
        Assert.Equal((LinkFault.Gone, true), (fault.Fault, link.IsDisposed));
    }

    [Fact]
    public async Task Opening_that_is_cancelled_between_two_commands_closes_the_link()
    {
        var link = new TalkingLink();
        using var stop = new CancellationTokenSource();
        var opening = new InstrumentOpener(new Opener(link), TwoSteps, _time).OpenAsync(Somewhere, new(), stop.Token).AsTask();
        await stop.CancelAsync();
        _ = await Assert.ThrowsAnyAsync<OperationCanceledException>(() => opening);
        Assert.Equal(("\r", true), (link.Written, link.IsDisposed));
    }

    [Fact]
    public async Task Link_that_is_opened_again_after_half_a_command_is_set_up_again_and_then_obeys()
    {
        // The first link goes in the middle of the trigger: it takes "RE" and breaks.
        var (first, second) = (new TalkingLink(), new TalkingLink());
        var profile = ShippedProfiles.Get("told-to-read");
        first.Takes = (text, _) =>
        {
            if (text != "READ\r")
            {
                return Task.CompletedTask;
            }

            first.Break();
            throw new LinkException(LinkFault.Gone, "talking went away.");
        };
        var opener = new InstrumentOpener(new Opener(first, second), profile, TimeProvider.System);
        var orders = new InstrumentOrders(profile, TimeProvider.System);
        await using var link = await ReconnectingLink.OpenAsync(
            opener, Somewhere, new(), TimeProvider.System, new ReconnectOptions { FirstDelay = TimeSpan.FromMilliseconds(1) }, null, Token);
        var connected = 0;
        var readings = new List<InstrumentEvent>();
        OrderOutcome? broken = null, done = null;
        await foreach (var reception in link.ReadAllAsync(orders.ReceiveAllAsync, Tell, Token))
        {
            readings.AddRange(reception.Events);
            if (reception.Entry.Event == JournalEvent.Opened && connected == 1)
            {
                broken = await orders.TriggerAsync(Token);
            }
            else if (reception.Entry.Event == JournalEvent.Opened)
            {
                var again = orders.TriggerAsync(Token);
                second.Send("R=0.26 G=0.62 B=0.80\r\n");
                _ = again.ContinueWith(t => done = t.Result, TaskScheduler.Default);
            }

            if (readings.Count > 0)
            {
                break;
            }
        }

        Assert.Equal(OrderEnd.NotSent, broken!.End);
        Assert.Equal("\r", first.Written);
        Assert.Equal("\rREAD\r", second.Written);
        Assert.IsType<InstrumentEvent.ReadingTaken>(Assert.Single(readings));
        while (done is null)
        {
            await Task.Yield();
        }

        Assert.Equal(OrderEnd.Answered, done.End);

        ValueTask Tell(LinkState state)
        {
            connected += state is LinkState.Connected ? 1 : 0;
            return ValueTask.CompletedTask;
        }
    }

    private sealed class Opener(params IEnumerable<TalkingLink> links) : ILinkOpener
    {
        private readonly Queue<TalkingLink> _links = new(links);

        public ValueTask<IByteLink> OpenAsync(LinkAddress address, LinkSettings settings, CancellationToken cancellationToken) =>
            new(_links.Dequeue());
    }
}
