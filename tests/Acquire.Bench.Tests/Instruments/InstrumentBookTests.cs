using Acquire.Bench.Instruments;
using Acquire.Instruments.ProfileFiles;

namespace Acquire.Bench.Tests.Instruments;

public sealed class InstrumentBookTests : IAsyncLifetime
{
    private const string Port = "/dev/serial/by-id/desk";

    private readonly string _folder = Directory.CreateTempSubdirectory("acquire-instruments-").FullName;
    private readonly FakeTimeProvider _time = new(Some.Moment);
    private AcquireStore _store = null!;
    private InstrumentBook _book = null!;

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync()
    {
        _store = await EmptyStore.OpenAsync(_folder, _time, Token);
        _book = new InstrumentBook(_store, new ProfileLibrary(), _time);
    }

    public async ValueTask DisposeAsync()
    {
        await _store.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public async Task Only_instrument_in_use_need_not_be_named()
    {
        await AddAsync("bench", Port);
        await AddAsync("old", "/dev/ttyUSB9");
        _ = await _book.RetireAsync("old", back: false, "staff", null, Token);

        var chosen = await _book.ChooseAsync(new InstrumentChoice(), Token);

        Assert.Equal(("bench", Port, "labelled-line", null), Words(chosen));
    }

    [Fact]
    public async Task Of_two_one_must_be_named_and_the_message_names_both()
    {
        await AddAsync("bench", Port);
        await AddAsync("spare", "/dev/ttyUSB9");

        var error = await RefusedAsync(new InstrumentChoice());

        Assert.Contains("bench and spare", error, StringComparison.Ordinal);
        Assert.Equal("spare", (await _book.ChooseAsync(new InstrumentChoice("SPARE"), Token)).Setup.Name);
    }

    [Fact]
    public async Task Named_instrument_may_be_on_another_port_and_rate_this_once()
    {
        await AddAsync("bench", Port);

        var setup = (await _book.ChooseAsync(new InstrumentChoice("bench", "tcp:desk:4001", Baud: 1200), Token)).Setup;

        Assert.Equal(("tcp:desk:4001", 1200), (setup.Address.ToString(), setup.Settings.Baud));
        Assert.Equal(Port, (await _book.GetAsync("bench", Token)).Port);
    }

    [Fact]
    public async Task Named_instrument_keeps_its_profile()
    {
        await AddAsync("bench", Port);

        Assert.Contains(
            "bench is read with profile labelled-line", await RefusedAsync(new InstrumentChoice("bench", null, "rgb-columns")),
            StringComparison.Ordinal);
    }

    /// <summary>The rule for one-off use: both fit; else the only one with the profile; else one named after the profile.</summary>
    [Fact]
    public async Task One_off_port_and_profile_are_the_instrument_that_has_both()
    {
        await AddAsync("bench", Port);
        await AddAsync("twin", "/dev/ttyUSB9");

        Assert.Equal(("twin", "/dev/ttyUSB9", "labelled-line", null), Words(await OneOffAsync("/dev/ttyUSB9", "labelled-line")));
    }

    [Fact]
    public async Task One_off_on_another_port_is_the_only_instrument_with_that_profile_and_it_is_said()
    {
        await AddAsync("bench", Port);

        var chosen = await OneOffAsync("/dev/ttyUSB3", "labelled-line");

        Assert.Equal(("bench", "/dev/ttyUSB3"), (chosen.Setup.Name, chosen.Setup.Address.ToString()));
        Assert.Contains($"which is on {Port} otherwise", chosen.Notice, StringComparison.Ordinal);
    }

    [Fact]
    public async Task One_off_with_a_profile_that_no_instrument_has_goes_by_the_profile()
    {
        await AddAsync("bench", Port);

        Assert.Equal(("rgb-columns", Port, "rgb-columns", null), Words(await OneOffAsync(Port, "rgb-columns")));
    }

    [Fact]
    public async Task One_off_that_may_be_either_of_two_of_a_family_is_refused()
    {
        await AddAsync("bench", Port);
        await AddAsync("twin", "/dev/ttyUSB9");

        Assert.Contains(
            "bench and twin", await RefusedAsync(new InstrumentChoice(null, "/dev/ttyUSB3", "labelled-line")), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Instrument_without_a_port_says_what_to_do()
    {
        _ = await _book.AddAsync("bench", new InstrumentDetails(Profile: "labelled-line"), "staff", null, Token);

        Assert.Contains(
            "acquire instrument set bench --port PORT", await RefusedAsync(new InstrumentChoice("bench")), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Change_is_a_revision_with_who_when_and_why()
    {
        await AddAsync("bench", Port);
        _time.Advance(TimeSpan.FromDays(3));
        _ = await _book.SetAsync("Bench", new InstrumentDetails(Port: "tcp:desk:4001", Notes: "new lamp"), "tutor", null, Token);
        _ = await _book.SetAsync("bench", new InstrumentDetails(Notes: ""), "tutor", "said by mistake", Token);

        var history = await _book.HistoryAsync("bench", Token);

        Assert.Equal(["added", "changed port and notes", "said by mistake"], history.Select(i => i.Revision.Reason));
        Assert.Equal(["staff", "tutor", "tutor"], history.Select(i => i.Revision.By));
        Assert.Equal(Some.Moment.AddDays(3), history[1].Revision.At);
        Assert.Equal(["new lamp", null], history.Skip(1).Select(i => i.Notes));
    }

    [Fact]
    public async Task Change_of_nothing_and_instrument_that_is_not_there_are_refused()
    {
        await AddAsync("bench", Port);

        await Assert.ThrowsAsync<BenchException>(() => _book.SetAsync("bench", new InstrumentDetails(Port: Port), "staff", null, Token));
        var error = await Assert.ThrowsAsync<BenchException>(() => _book.GetAsync("desk", Token));
        Assert.Contains("there are bench", error.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("")]
    [InlineData(" ")]
    [InlineData("-b")]
    [InlineData("a\nb")]
    public async Task Name_that_nobody_can_type_is_refused(string name) => await Assert.ThrowsAsync<BenchException>(
        () => _book.AddAsync(name, new InstrumentDetails(Profile: "labelled-line"), "staff", null, Token));

    [Fact]
    public async Task Second_instrument_on_a_port_is_told_and_not_refused()
    {
        await AddAsync("bench", Port);

        var added = await _book.AddAsync("spare", new InstrumentDetails(Port, "rgb-columns"), "staff", null, Token);

        Assert.Contains($"bench is on {Port} too", added.Warning, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Entered_readings_may_name_an_instrument_or_as_before_a_profile()
    {
        await AddAsync("bench", Port);

        Assert.Equal("bench", (await _book.NamedAsync(new InstrumentChoice("BENCH"), Token)).Name);
        Assert.Equal("bench", (await _book.NamedAsync(new InstrumentChoice(Profile: "labelled-line"), Token)).Name);
        Assert.Equal("rgb-columns", (await _book.NamedAsync(new InstrumentChoice("rgb-columns"), Token)).Name);
        await Assert.ThrowsAsync<BenchException>(() => _book.NamedAsync(new InstrumentChoice("desk"), Token));

        await AddAsync("twin", "/dev/ttyUSB9");
        await Assert.ThrowsAsync<BenchException>(() => _book.NamedAsync(new InstrumentChoice(Profile: "labelled-line"), Token));
    }

    [Fact]
    public async Task Overview_tells_what_was_read_and_list_names_what_is_only_in_records()
    {
        await AddAsync("bench", Port);
        await _store.AddRepeatabilityTestAsync(Test("bench"), Token);
        await _store.AddRepeatabilityTestAsync(Test("visitor"), Token);

        var shown = await InstrumentOverview.OfAsync(_store, _book, "bench", _time, Token);
        var list = await InstrumentList.OfAsync(_store, _book, Token);

        Assert.Equal(1, shown.Use?.Tests);
        Assert.NotNull(shown.Test);
        Assert.Contains("no calibration check was made with bench yet", shown.Check.Lacking, StringComparison.Ordinal);
        Assert.Equal("visitor", Assert.Single(list.Elsewhere).Name);
    }

    private static RepeatabilityTest Test(string instrument) => new(
        Guid.CreateVersion7(),
        [new PatchReads(new Patch("ld", "LD"), [.. new[] { 0.45m, 0.46m }.Select(d => new PatchRead(
            Reading.Entered(ChannelDensities.Rgb(d, d, d), Some.Moment)))])],
        1,
        0.02,
        passed: true,
        new Provenance(Some.Moment, "staff", new InstrumentInUse("labelled-line", "h", Port) { Name = instrument }));

    private static (string, string, string, string?) Words(ChosenInstrument chosen) =>
        (chosen.Setup.Name, chosen.Setup.Address.ToString()!, chosen.Setup.Profile.Name, chosen.Notice);

    private Task<ChangedInstrument> AddAsync(string name, string port) =>
        _book.AddAsync(name, new InstrumentDetails(port, "labelled-line"), "staff", null, Token);

    private Task<ChosenInstrument> OneOffAsync(string port, string profile) =>
        _book.ChooseAsync(new InstrumentChoice(null, port, profile), Token);

    private async Task<string> RefusedAsync(InstrumentChoice choice) =>
        (await Assert.ThrowsAsync<BenchException>(() => _book.ChooseAsync(choice, Token))).Message;
}
