using Acquire.Instruments.Lines;
using Acquire.Instruments.Links;
using Acquire.Instruments.Tests.Lines;
using Acquire.Instruments.Tests.Profiles;
using Microsoft.Extensions.Time.Testing;

namespace Acquire.Instruments.Tests.Links;

public sealed class ReconnectingLinkTests
{
    private static readonly LinkAddress Port = new LinkAddress.Serial("scripted");
    private static readonly LinkException NotThere = new(LinkFault.NotFound, "There is no port.");
    private static readonly LinkException WrongSettings = new(LinkFault.BadSettings, "9 data bits.");

    private readonly List<LinkState> _told = [];
    private readonly List<InstrumentEvent> _read = [];

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    /// <summary>
    /// Whatever is sent, cut and broken off wherever: each line that came whole is delivered once, in order; a piece of a line is never
    /// part of a reading.
    /// </summary>
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public async Task Unplugged_500_times_no_reading_is_lost_and_none_doubled(int seed)
    {
        var random = new Random(seed);
        List<string> expected = [];
        List<object> script = [];
        var sent = 0;
        for (var plug = 0; plug <= 500; plug++)
        {
            script.AddRange(Enumerable.Repeat(NotThere, script.Count == 0 ? 0 : random.Next(3)));
            var text = "";
            for (var lines = random.Next(6); lines > 0; lines--)
            {
                var reading = FormattableString.Invariant($"R {sent / 100 % 4}.{sent % 100:00} G 0.62 B 0.80");
                sent++;
                expected.Add(reading);
                text += reading + "\r\n";
            }

            text += "R 1.26 G 1.74 B 2.00\r\n"[..random.Next(20)];
            script.Add(Cut(text, random));
        }

        script.Add(WrongSettings);
        var opener = new ScriptedOpener(script);
        Assert.Equal(LinkFault.BadSettings, (await Assert.ThrowsAsync<LinkException>(() => ReadAsync(opener, new ImpatientClock()))).Fault);

        Assert.Equal(expected, _read.OfType<InstrumentEvent.ReadingTaken>().Select(e => e.Line.Text));
        Assert.Equal(501, _told.OfType<LinkState.Connected>().Count());
        Assert.Equal(501, _told.OfType<LinkState.Gone>().Count());
        Assert.Equal(0, opener.StillOpen);
    }

    [Fact]
    public async Task States_are_told_in_the_order_in_which_they_come()
    {
        var opener = new ScriptedOpener(new[] { "R 0.26 G 0.6" }, NotThere, NotThere, new[] { "2 B 0.80\r\n" }, WrongSettings);
        await Assert.ThrowsAsync<LinkException>(() => ReadAsync(opener, new ImpatientClock()));
        Assert.Equal(
            ["Connected", "Gone", "Reconnecting", "Reconnecting", "Connected", "Gone"], _told.Select(s => s.GetType().Name));
        Assert.Equal([1, 2], _told.OfType<LinkState.Reconnecting>().Select(s => s.Attempt));
        Assert.Equal("gone: scripted went away.", _told[1].Message);
        Assert.All(_read, e => Assert.IsType<InstrumentEvent.UnmatchedLine>(e));
    }

    [Fact]
    public async Task Waits_grow_to_the_limit_and_no_further_over_2000_attempts()
    {
        var opener = new ScriptedOpener([new[] { "x" }, .. Enumerable.Repeat(NotThere, 2000), new[] { "x" }, WrongSettings]);
        var time = new ImpatientClock();
        await Assert.ThrowsAsync<LinkException>(() => ReadAsync(opener, time));
        Assert.Equal(2003, opener.Attempts);
        Assert.Equal(2000, time.Waits.Count);
        Assert.All(time.Waits, w => Assert.InRange(w, TimeSpan.Zero, TimeSpan.FromSeconds(30)));
        Assert.InRange(time.Waits[0], TimeSpan.Zero, TimeSpan.FromSeconds(1));
        Assert.True(time.Waits.TakeLast(1000).Average(w => w.TotalSeconds) > 10);
    }

    [Fact]
    public async Task Link_that_opens_and_breaks_at_once_is_not_opened_as_fast_as_possible()
    {
        var opener = new ScriptedOpener([.. Enumerable.Repeat(Array.Empty<string>(), 10), WrongSettings]);
        var time = new ImpatientClock();
        await Assert.ThrowsAsync<LinkException>(() => ReadAsync(opener, time));
        Assert.Equal([0.25, 0.5, 1, 2, 4, 8, 16, 30, 30], time.Waits.Take(9).Select(w => w.TotalSeconds));
    }

    [Fact]
    public async Task Fault_of_the_program_is_not_tried_again()
    {
        var opener = new ScriptedOpener(new[] { "x" }, new InvalidOperationException("a bug"), new[] { "x" });
        await Assert.ThrowsAsync<InvalidOperationException>(() => ReadAsync(opener, new ImpatientClock()));
        Assert.Equal(2, opener.Attempts);
    }

    [Fact]
    public async Task First_opening_is_not_tried_again()
    {
        var opener = new ScriptedOpener(NotThere, new[] { "x" });
        await Assert.ThrowsAsync<LinkException>(() => ReadAsync(opener, new ImpatientClock()));
        Assert.Equal(1, opener.Attempts);
    }

    [Fact]
    public async Task Giving_up_at_once_surfaces_the_fault_itself()
    {
        var fault = await Assert.ThrowsAsync<LinkException>(
            () =>
                ReadAsync(new ScriptedOpener([new[] { "x" }]), new ImpatientClock(), new ReconnectOptions { GiveUpAfter = TimeSpan.Zero }));
        Assert.Equal("scripted went away.", fault.Message);
    }

    [Fact]
    public async Task Link_that_stays_away_surfaces_its_fault_when_the_patience_is_over()
    {
        var time = new FakeTimeProvider();
        var opener = new ScriptedOpener([new[] { "x" }, .. Enumerable.Repeat(NotThere, 1000)]);
        var reading = ReadAsync(opener, time, new ReconnectOptions { GiveUpAfter = TimeSpan.FromSeconds(90) });
        while (!reading.IsCompleted)
        {
            time.Advance(TimeSpan.FromSeconds(1));
            await Task.Yield();
        }

        var fault = await Assert.ThrowsAsync<LinkException>(() => reading);
        Assert.Equal((LinkFault.Gone, "scripted went away. It did not come back within 90 s."), (fault.Fault, fault.Message));
    }

    [Fact]
    public async Task Silence_is_told_after_a_minute_and_at_each_doubling_until_something_comes()
    {
        var time = new FakeTimeProvider();
        var link = new ScriptedBytes();
        var watched = new WatchedLink(link, TimeSpan.FromMinutes(1), time) { Tell = Tell };
        var read = watched.ReadAsync(new byte[8], Token).AsTask();
        for (var seconds = 0; seconds < 250; seconds++)
        {
            time.Advance(TimeSpan.FromSeconds(1));
            await Task.Delay(TimeSpan.Zero, TimeProvider.System, Token);
            await UntilToldAsync(seconds switch { >= 239 => 3, >= 119 => 2, >= 59 => 1, _ => 0 });
        }

        link.Send("x");
        Assert.Equal(1, await read);
        Assert.Equal(
            ["silent for 1 min", "silent for 2 min", "silent for 4 min"], _told.Select(s => s.Message.Split(':')[0]));
    }

    [Fact]
    public async Task Port_that_returns_under_another_name_is_found_by_its_stable_name()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "Stable names of this kind exist on Linux only.");
        var folder = Directory.CreateTempSubdirectory("by-id-");
        try
        {
            var stable = Path.Combine(folder.FullName, "usb-adapter-port0");
            File.CreateSymbolicLink(stable, "/dev/null");
            var opener = new ScriptedOpener(new[] { "x" }, new[] { "x" }, WrongSettings);
            await Assert.ThrowsAsync<LinkException>(
                () => ReadAsync(
                    opener,
                    new ImpatientClock(),
                    new ReconnectOptions { StableNames = folder.FullName },
                    new LinkAddress.Serial("/dev/null")));
            Assert.Equal(["/dev/null", stable, stable], opener.Opened);
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    private ValueTask Tell(LinkState state)
    {
        _told.Add(state);
        return ValueTask.CompletedTask;
    }

    private async Task ReadAsync(ILinkOpener opener, TimeProvider time, ReconnectOptions? options = null, LinkAddress? port = null)
    {
        await using var link = await ReconnectingLink.OpenAsync(opener, port ?? Port, new LinkSettings(), time, options, null, Token);
        var profile = ShippedProfiles.Get("labelled-line");
        await foreach (var e in link.ReadAllAsync((l, token) => InstrumentReader.ReadAllAsync(l, profile, time, token), Tell, Token))
        {
            _read.Add(e);
        }
    }

    private async Task UntilToldAsync(int count)
    {
        while (_told.Count < count)
        {
            Token.ThrowIfCancellationRequested();
            await Task.Yield();
        }
    }

    private static string[] Cut(string text, Random random)
    {
        List<string> chunks = [];
        for (var at = 0; at < text.Length;)
        {
            var length = Math.Min(1 + random.Next(30), text.Length - at);
            chunks.Add(text.Substring(at, length));
            at += length;
        }

        return [.. chunks];
    }
}
