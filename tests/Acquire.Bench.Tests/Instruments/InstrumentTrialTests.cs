using Acquire.Bench.Instruments;
using Acquire.Bench.Sessions;
using Acquire.Instruments.Links;
using Acquire.Instruments.ProfileFiles;

namespace Acquire.Bench.Tests.Instruments;

public sealed class InstrumentTrialTests : IAsyncDisposable
{
    private readonly ScriptedLink _link = new();
    private readonly List<string> _shown = [];

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public ValueTask DisposeAsync() => _link.DisposeAsync();

    [Fact]
    public async Task Profile_that_fits_says_so_after_as_many_readings_as_are_enough()
    {
        _link.Send("R 0.26 G 0.62 B 0.80\r\nR 0.46 G 0.84 B 1.04\r\nR 1.26 G 1.74 B 2.00\r\n");

        var result = await TryAsync("labelled-line", readings: 2);

        Assert.Equal((ProfileFit.Fits, 2), (result.Fit, result.Readings));
        Assert.Equal(["R 0.26 G 0.62 B 0.80", "R 0.46 G 0.84 B 1.04"], _shown);
        Assert.Equal(0.01, result.Step!.Value, 1e-12);
        Assert.Empty(result.Others);
        Assert.True(_link.IsDisposed);
    }

    [Fact]
    public async Task Where_the_profile_does_not_fit_the_known_one_that_does_is_named()
    {
        _link.Send("R 0.26 G 0.62 B 0.80\r\nR 0.46 G 0.84 B 1.04\r\n");
        _link.Break();

        var result = await TryAsync("rgb-columns");

        Assert.Equal((ProfileFit.FitsNot, 0), (result.Fit, result.Readings));
        Assert.Equal(["labelled-line"], result.Others.Select(p => p.Name));
    }

    [Fact]
    public async Task Lines_beside_readings_that_fit_nothing_are_a_fit_in_part()
    {
        _link.Send("R 0.26 G 0.62 B 0.80\r\n%%%%\r\n");
        _link.Break();

        Assert.Equal(ProfileFit.Partly, (await TryAsync("labelled-line")).Fit);
    }

    [Fact]
    public async Task Bytes_without_an_end_of_line_fit_nothing_and_are_shown()
    {
        _link.Send("R 0.26 G 0.62");

        var result = await TryAsync("labelled-line", longest: TimeSpan.FromMilliseconds(100));

        Assert.Equal((ProfileFit.FitsNot, "R 0.26 G 0.62"), (result.Fit, result.Unfinished));
    }

    [Fact]
    public async Task Nothing_that_comes_until_the_time_is_up_is_told_as_such()
    {
        var result = await TryAsync("labelled-line", longest: TimeSpan.FromMilliseconds(50));

        Assert.Equal((ProfileFit.Nothing, 0), (result.Fit, result.Events.Length));
    }

    [Fact]
    public async Task Key_ends_it_with_what_came_until_then()
    {
        using var key = new CancellationTokenSource(TimeSpan.FromMilliseconds(50));
        _link.Send("R 0.26 G 0.62 B 0.80\r\n");

        Assert.Equal(ProfileFit.Fits, (await TryAsync("labelled-line", key: key)).Fit);
    }

    [Fact]
    public async Task Port_that_sends_without_end_is_given_up()
    {
        for (var i = 0; i < 100; i++)
        {
            _link.Send(new string('x', 1000));
        }

        var result = await TryAsync("labelled-line");

        Assert.Equal(ProfileFit.FitsNot, result.Fit);
        Assert.InRange(result.Bytes.Bytes, 64 * 1024, 70_000);
    }

    [Fact]
    public async Task Port_that_breaks_before_anything_came_is_a_fault_of_the_link()
    {
        _link.Break();

        await Assert.ThrowsAsync<LinkException>(() => TryAsync("labelled-line"));
    }

    private Task<TrialResult> TryAsync(
        string profile, int readings = 3, TimeSpan? longest = null, CancellationTokenSource? key = null)
    {
        var speaks = new ProfileLibrary().Find(profile);
        var setup = new InstrumentSetup(new LinkAddress.Serial("scripted"), speaks, speaks.Link) { Name = "bench" };
        return new InstrumentTrial(new ProfileLibrary(), _link, TimeProvider.System).RunAsync(
            setup, new TrialBounds(longest ?? TimeSpan.FromSeconds(20), readings), _ => { }, e => _shown.Add(e.Line.Text),
            key?.Token ?? CancellationToken.None, Token);
    }
}
