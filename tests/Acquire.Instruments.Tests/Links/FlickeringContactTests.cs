using System.Text;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Links;
using Acquire.Instruments.Simulation;
using Acquire.Instruments.Tests.Profiles;
using Microsoft.Extensions.Time.Testing;

namespace Acquire.Instruments.Tests.Links;

/// <summary>A contact that flickers, and a port that is back: what is waited for, and for how long.</summary>
public sealed class FlickeringContactTests
{
    private readonly List<LinkState> _told = [];

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Three_breaks_of_a_third_of_a_second_within_15_s_are_not_one_absence()
    {
        var (reading, _) = await FlickerAsync(breaks: 3, away: 0.3, open: 4.7, giveUpAfter: 10);
        Assert.False(reading.IsCompleted, reading.Exception?.ToString());
        Assert.Equal(3, _told.OfType<LinkState.Gone>().Count());
        Assert.IsType<LinkState.Connected>(_told[^1]);
    }

    [Fact]
    public async Task Contact_that_never_holds_ends_the_reading_when_it_was_away_so_long_in_all()
    {
        var (reading, elapsed) = await FlickerAsync(breaks: 100, away: 0.3, open: 0.5, giveUpAfter: 10);
        var fault = await Assert.ThrowsAsync<LinkException>(() => reading);
        Assert.Matches("^staged went away. It came and went [0-9]+ times, and was away for 10 s in all.$", fault.Message);
        Assert.InRange(elapsed, TimeSpan.FromSeconds(10), TimeSpan.FromSeconds(30));
    }

    /// <summary>On a real pseudo-terminal, while the next attempt by the clock is 20 s away.</summary>
    [Fact]
    public async Task Port_that_is_back_is_opened_within_a_second_and_that_is_told()
    {
        Assert.SkipUnless(PseudoTerminal.IsSupported, "There are no pseudo-terminals on this system.");
        var folder = Directory.CreateTempSubdirectory("back-");
        var path = Path.Combine(folder.FullName, "densitometer");
        var terminal = PseudoTerminal.Open(TimeProvider.System, path);
        try
        {
            var opener = new LinkOpener(
                TimeProvider.System, new LinkOpenerOptions { LockFolder = Path.Combine(folder.FullName, "locks") });
            var slow = TimeSpan.FromSeconds(20);
            await using var link = await ReconnectingLink.OpenAsync(
                opener, terminal.Address, new LinkSettings(), TimeProvider.System,
                new ReconnectOptions { FirstDelay = slow, MaxDelay = slow }, null, Token);
            using var stop = CancellationTokenSource.CreateLinkedTokenSource(Token);
            var reading = ReadAsync(link, TimeProvider.System, stop.Token);
            await UntilAsync(() => _told.OfType<LinkState.Connected>().Count() == 1);
            await terminal.DisposeAsync();
            await UntilAsync(() => _told.OfType<LinkState.Reconnecting>().Any());
            Assert.EndsWith("It is opened as soon as it is there.", _told[^1].Message, StringComparison.Ordinal);

            terminal = PseudoTerminal.Open(TimeProvider.System, path);
            var back = TimeProvider.System.GetTimestamp();
            await UntilAsync(() => _told.OfType<LinkState.Connected>().Count() == 2);
            Assert.InRange(TimeProvider.System.GetElapsedTime(back), TimeSpan.Zero, TimeSpan.FromSeconds(1));
            await terminal.WriteAsync(Encoding.ASCII.GetBytes("R 0.26 G 0.62 B 0.80\r\n"), Token);
            await stop.CancelAsync();
            await Assert.ThrowsAnyAsync<OperationCanceledException>(() => reading);
        }
        finally
        {
            await terminal.DisposeAsync();
            folder.Delete(recursive: true);
        }
    }

    private async Task<(Task Reading, TimeSpan Elapsed)> FlickerAsync(int breaks, double away, double open, double giveUpAfter)
    {
        var (time, opener) = (new FakeTimeProvider(), new StagedOpener());
        var link = await ReconnectingLink.OpenAsync(
            opener, new LinkAddress.Serial("staged"), new LinkSettings(), time,
            new ReconnectOptions { GiveUpAfter = TimeSpan.FromSeconds(giveUpAfter) }, null, Token);
        var begun = time.GetTimestamp();
        var reading = ReadAsync(link, time, Token);
        for (var i = 0; i < breaks && !reading.IsCompleted; i++)
        {
            await UntilAsync(() => opener.IsOpen || reading.IsCompleted, time);
            if (!reading.IsCompleted)
            {
                await PassAsync(time, open);
                opener.Unplug();
                await PassAsync(time, away);
                opener.IsThere = true;
            }
        }

        await UntilAsync(() => reading.IsCompleted || (opener.IsOpen && _told[^1] is LinkState.Connected), time);
        return (reading, time.GetElapsedTime(begun));
    }

    private async Task ReadAsync(ReconnectingLink link, TimeProvider time, CancellationToken cancellationToken)
    {
        var profile = ShippedProfiles.Get("labelled-line");
        await foreach (var _ in link.ReadAllAsync(
            (l, token) => InstrumentReader.ReadAllAsync(l, profile, time, token),
            state =>
            {
                _told.Add(state);
                return ValueTask.CompletedTask;
            },
            cancellationToken))
        {
        }
    }

    private static async Task PassAsync(FakeTimeProvider time, double seconds)
    {
        for (var passed = 0.0; passed < seconds - 1e-9; passed += 0.1)
        {
            time.Advance(TimeSpan.FromSeconds(0.1));
            await Task.Delay(TimeSpan.FromMilliseconds(2), TimeProvider.System, Token);
        }
    }

    private static async Task UntilAsync(Func<bool> condition, FakeTimeProvider? time = null)
    {
        while (!condition())
        {
            time?.Advance(TimeSpan.FromMilliseconds(50));
            await Task.Delay(TimeSpan.FromMilliseconds(2), TimeProvider.System, Token);
        }
    }
}
