using Acquire.Web.Hosting;
using Microsoft.Extensions.Hosting.Systemd;

namespace Acquire.Web.Tests.Hosting;

public sealed class SystemdWatchdogTests
{
    /// <summary>Source: sd_watchdog_enabled(3).</summary>
    [Theory]
    [InlineData(null, null, null)]
    [InlineData("", null, null)]
    [InlineData("0", null, null)]
    [InlineData("-5", null, null)]
    [InlineData("soon", null, null)]
    [InlineData("30000000", null, 30.0)]
    [InlineData("30000000", "77", 30.0)]
    [InlineData("30000000", "78", null)]
    public void Interval_is_what_systemd_says_to_this_process(string? microseconds, string? watched, double? seconds) =>
        Assert.Equal(seconds, SystemdWatchdog.Interval(microseconds, watched, process: 77)?.TotalSeconds);

    [Fact]
    public async Task Word_is_given_at_once_and_twice_in_each_interval()
    {
        var notifier = new Notifier();
        var time = new FakeTimeProvider();
        using var watchdog = new SystemdWatchdog(TimeSpan.FromSeconds(30), notifier, time);
        await watchdog.StartAsync(TestContext.Current.CancellationToken);
        Assert.Equal("WATCHDOG=1", await notifier.NextAsync());
        for (var n = 0; n < 4; n++)
        {
            time.Advance(TimeSpan.FromSeconds(14));
            Assert.Equal(0, notifier.Waiting);
            time.Advance(TimeSpan.FromSeconds(1));
            Assert.Equal("WATCHDOG=1", await notifier.NextAsync());
        }

        await watchdog.StopAsync(TestContext.Current.CancellationToken);
        time.Advance(TimeSpan.FromMinutes(5));
        Assert.Equal(0, notifier.Waiting);
    }
}

internal sealed class Notifier : ISystemdNotifier
{
    private readonly System.Threading.Channels.Channel<string> _said = System.Threading.Channels.Channel.CreateUnbounded<string>();

    public bool IsEnabled => true;

    public int Waiting => _said.Reader.Count;

    public void Notify(ServiceState state) => _said.Writer.TryWrite(state.ToString());

    public async Task<string> NextAsync() => await _said.Reader.ReadAsync(TestContext.Current.CancellationToken);
}
