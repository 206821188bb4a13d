using Acquire.Instruments.Lines;
using Acquire.Instruments.Links;
using Acquire.Instruments.Tests.Profiles;
using Microsoft.Extensions.Time.Testing;

namespace Acquire.Instruments.Tests.Links;

/// <summary>A link that is begun while its port is away, and that serves one reader after another.</summary>
public sealed class OneReaderAfterAnotherTests
{
    private const string First = "R 0.26 G 0.62 B 0.80\r\n";
    private const string Second = "R 0.46 G 0.84 B 1.04\r\n";

    private static readonly LinkAddress Port = new LinkAddress.Serial("staged");

    private readonly FakeTimeProvider _time = new();

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Port_that_is_away_at_the_beginning_is_waited_for_and_never_called_connected()
    {
        var opener = new StagedOpener { IsThere = false };
        await using var link = Begin(opener);
        await using var reader = new Reader(link, _time);
        await UntilAsync(() => reader.Told.Count == 1);
        Assert.Equal(
            "not open: There is no port. The next attempt is in 0.25 s.", Assert.IsType<LinkState.NotOpen>(reader.Told[0]).Message);
        await UntilAsync(() => opener.Attempts == 3, _time);
        Assert.Equal(["NotOpen", "Reconnecting"], reader.ToldNames);

        opener.IsThere = true;
        await UntilAsync(() => reader.ToldNames[^1] == "Connected", _time);
        opener.Send(First);
        await UntilAsync(() => reader.Lines.Count == 1);
        Assert.Equal(("connected: staged", 1), (reader.Told[^1].Message, opener.Opened));
    }

    [Fact]
    public async Task Port_that_never_comes_surfaces_its_fault_when_the_patience_is_over()
    {
        await using var link = Begin(new StagedOpener { IsThere = false }, new ReconnectOptions { GiveUpAfter = TimeSpan.FromSeconds(9) });
        await using var reader = new Reader(link, _time);
        await UntilAsync(() => reader.Reading.IsCompleted, _time);
        var fault = await Assert.ThrowsAsync<LinkException>(() => reader.Reading);
        Assert.Equal("There is no port. It did not come within 9 s.", fault.Message);
    }

    [Fact]
    public async Task Port_that_is_away_and_not_to_be_waited_for_surfaces_its_fault_at_once()
    {
        var opener = new StagedOpener { IsThere = false };
        await using var link = Begin(opener, new ReconnectOptions { GiveUpAfter = TimeSpan.Zero });
        await using var reader = new Reader(link, _time);
        var fault = await Assert.ThrowsAsync<LinkException>(() => reader.Reading.WaitAsync(Token));
        Assert.Equal(("There is no port.", 1), (fault.Message, opener.Attempts));
    }

    [Fact]
    public async Task Next_reader_goes_on_with_the_open_link_and_has_what_came_in_between()
    {
        var opener = new StagedOpener();
        await using var link = Begin(opener);
        await using (var before = new Reader(link, _time))
        {
            await UntilAsync(() => before.ToldNames.Contains("Connected"));
            opener.Send(First);
            await UntilAsync(() => before.Lines.Count == 1);
        }

        Assert.True(opener.IsOpen);
        opener.Send(Second);
        await using var next = new Reader(link, _time);
        await UntilAsync(() => next.Lines.Count == 1);
        Assert.Equal([Second.Trim()], next.Lines);
        Assert.Equal(["connected: staged"], next.Told.Select(t => t.Message));
        Assert.Equal([JournalEvent.Opened, JournalEvent.Received], next.Entries);
        Assert.Equal(1, opener.Opened);
    }

    [Fact]
    public async Task Link_that_broke_while_nobody_read_is_never_called_connected_and_loses_nothing()
    {
        var opener = new StagedOpener();
        await using var link = Begin(opener);
        await using (var before = new Reader(link, _time))
        {
            await UntilAsync(() => before.ToldNames.Contains("Connected"));
        }

        opener.Send(First);
        opener.Unplug();
        await using var next = new Reader(link, _time);
        await UntilAsync(() => next.Told.Count == 2);
        Assert.Equal([First.Trim()], next.Lines);
        Assert.Equal(["Gone", "Reconnecting"], next.ToldNames);

        opener.IsThere = true;
        await UntilAsync(() => next.ToldNames[^1] == "Connected", _time);
        Assert.StartsWith("connected: staged, back after ", next.Told[^1].Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Reader_that_comes_while_the_link_is_away_is_told_so_and_waits_with_patience_of_its_own()
    {
        var opener = new StagedOpener();
        await using var link = Begin(opener, new ReconnectOptions { GiveUpAfter = TimeSpan.FromSeconds(30) });
        await using (var before = new Reader(link, _time))
        {
            await UntilAsync(() => before.ToldNames.Contains("Connected"));
            opener.Unplug();
            await UntilAsync(() => opener.Attempts > 5, _time);
        }

        _time.Advance(TimeSpan.FromHours(1));
        await using var next = new Reader(link, _time);
        await UntilAsync(() => next.Told.Count >= 2, _time);
        Assert.Equal(["Gone", "Reconnecting"], next.ToldNames);
        opener.IsThere = true;
        await UntilAsync(() => next.ToldNames[^1] == "Connected", _time);
        opener.Send(Second);
        await UntilAsync(() => next.Lines.Count == 1);
    }

    private ReconnectingLink Begin(StagedOpener opener, ReconnectOptions? options = null) =>
        ReconnectingLink.Begin(opener, Port, new LinkSettings(), _time, options, null);

    /// <summary>Waits for what the reader does, and lets time pass where a clock is given.</summary>
    private static async Task UntilAsync(Func<bool> condition, FakeTimeProvider? time = null)
    {
        using var late = new CancellationTokenSource(TimeSpan.FromSeconds(20), TimeProvider.System);
        while (!condition())
        {
            late.Token.ThrowIfCancellationRequested();
            time?.Advance(TimeSpan.FromMilliseconds(50));
            await Task.Delay(TimeSpan.FromMilliseconds(1), TimeProvider.System, Token);
        }
    }

    /// <summary>Reads in the background until it is disposed.</summary>
    private sealed class Reader : IAsyncDisposable
    {
        private readonly CancellationTokenSource _stop = CancellationTokenSource.CreateLinkedTokenSource(Token);

        public Reader(ReconnectingLink link, TimeProvider time) => Reading = Task.Run(
            async () =>
            {
                var profile = ShippedProfiles.Get("labelled-line");
                await foreach (var reception in link.ReadAllAsync(
                    (l, t) => InstrumentReader.ReceiveAllAsync(l, profile, time, t),
                    state =>
                    {
                        Told = Told.Add(state);
                        return ValueTask.CompletedTask;
                    },
                    _stop.Token))
                {
                    Entries = Entries.Add(reception.Entry.Event);
                    Lines = Lines.AddRange(reception.Events.Select(e => e.Line.Text));
                }
            },
            Token);

        public Task Reading { get; }

        public ImmutableList<LinkState> Told { get; private set; } = [];


        public ImmutableList<string> ToldNames => [.. Told.Select(s => s.GetType().Name)];

        public ImmutableList<JournalEvent> Entries { get; private set; } = [];

        public ImmutableList<string> Lines { get; private set; } = [];

        public async ValueTask DisposeAsync()
        {
            await _stop.CancelAsync();
            await Reading.ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
            _stop.Dispose();
        }
    }
}
