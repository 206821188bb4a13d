namespace Acquire.Tests.Commands;

public sealed class InstrumentCommandTests : IAsyncDisposable
{
    private readonly InMemory _program = new();
    private readonly TcpInstrument _device = new();

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public async ValueTask DisposeAsync()
    {
        await _device.DisposeAsync();
        _program.Dispose();
    }

    [Fact]
    public async Task Added_changed_and_retired_instrument_shows_its_history()
    {
        await DoAsync(
            "instrument",
            "add", "bench", "--port", "/dev/ttyUSB0", "--profile", "labelled-line", "--baud", "1200", "--display-step", "0.01",
            "--filters", "status M", "--serial-number", "17", "--notes", "beside the dip tank", "--by", "staff");
        await DoAsync("instrument", "set", "Bench", "--port", "tcp:desk:4001", "--baud", "0", "--reason", "moved to the desk");
        await DoAsync("instrument", "retire", "bench", "--reason", "lamp gone");

        var shown = await _program.JsonAsync("instrument", "show", "bench");
        Assert.Equal("tcp:desk:4001", shown.GetProperty("port").GetString());
        Assert.Equal("17", shown.GetProperty("serialNumber").GetString());
        Assert.Equal(System.Text.Json.JsonValueKind.Null, shown.GetProperty("baud").ValueKind);
        Assert.Equal(
            ["added", "moved to the desk", "lamp gone"],
            shown.GetProperty("revisions").EnumerateArray().Select(r => r.GetProperty("revision").GetProperty("reason").GetString()));
        var text = (await _program.RunAsync("instrument", "show", "bench")).Out;
        Assert.Contains("port: /dev/ttyUSB0 → tcp:desk:4001", text, StringComparison.Ordinal);
        Assert.Contains("rate: 1200 bit/s → nothing", text, StringComparison.Ordinal);
        Assert.Contains("retired", (await _program.RunAsync("instrument", "list")).Out, StringComparison.Ordinal);
        Assert.Equal(0, (await _program.RunAsync("instrument", "retire", "bench", "--back")).Code);
        Assert.Equal(0, (await _program.RunAsync("verify")).Code);
    }

    [Theory]
    [InlineData("--profile", "nosuch", "There is no such profile")]
    [InlineData("--display-step", "5", "The display step is a density")]
    [InlineData("--baud", "-1", "A rate is 1 bit per second at least")]
    [InlineData("--port", "tcp:desk", "tcp:")]
    public async Task What_cannot_be_said_of_an_instrument_is_refused(string option, string value, string said)
    {
        await DoAsync("instrument", "add", "bench", "--profile", "labelled-line");

        var (code, _, error) = await _program.RunAsync("instrument", "set", "bench", option, value);

        Assert.Equal(2, code);
        Assert.Contains(said, error, StringComparison.Ordinal);
    }

    /// <summary>With one instrument in the house and one lot, <c>acquire read</c> alone reads, and says what it took.</summary>
    [Fact]
    public async Task Read_alone_takes_the_only_instrument_and_the_lot_used_last()
    {
        await DoAsync(["lot", "add", "2417", "--process", "c41"]);
        await DoAsync(["lot", "reference", "2417", .. TcpInstrument.ReferenceValues]);
        await DoAsync("instrument", "add", "bench", "--port", Port, "--profile", "labelled-line");
        _device.Lay();

        var (code, output, error) = await _program.RunAsync("read", "--reads", "1", "--no-bell", "--json");

        Assert.True(code == 0, output + error);
        Assert.Contains("Taken, since none was named: lot 2417.", error, StringComparison.Ordinal);
        var used = System.Text.Json.JsonDocument.Parse(output).RootElement.GetProperty("instrument");
        Assert.Equal(("bench", "labelled-line"), (used.GetProperty("name").GetString(), used.GetProperty("profile").GetString()));
        Assert.Equal(1, (await _program.JsonAsync("instrument", "show", "bench")).GetProperty("strips").GetInt32());
    }

    /// <summary>What was read once with a port and a profile can be called by its name from then on.</summary>
    [Fact]
    public async Task Instrument_of_a_one_off_reading_is_in_the_house_afterwards()
    {
        await DoAsync(["lot", "add", "2417", "--process", "c41"]);
        await DoAsync(["lot", "reference", "2417", .. TcpInstrument.ReferenceValues]);
        _device.Lay();
        await DoAsync(["read", "--lot", "2417", .. _device.Options]);

        var listed = Assert.Single((await _program.JsonAsync("instrument", "list")).EnumerateArray());
        Assert.Equal(
            ("labelled-line", Port), (listed.GetProperty("name").GetString(), listed.GetProperty("port").GetString()));
        _device.Lay();
        await DoAsync("read", "--instrument", "labelled-line", "--reads", "1", "--no-bell");
        Assert.Single((await _program.JsonAsync("instrument", "list")).EnumerateArray());
    }

    /// <summary>Two instruments of one family share a profile and nothing else: a check of one says nothing of the other.</summary>
    [Fact]
    public async Task Check_and_test_of_one_instrument_do_not_count_for_its_twin()
    {
        await DoAsync("instrument", "add", "bench", "--port", "/dev/ttyUSB0", "--profile", "labelled-line");
        await DoAsync("instrument", "add", "twin", "--port", "/dev/ttyUSB1", "--profile", "labelled-line");
        await DoAsync("plaque", "add", "plaque", "--patch", "zero 0 0 0", "--patch", "high 2.95 3.01 3.05");
        await DoAsync(
            "check",
            "--plaque", "plaque", "--instrument", "bench", "--from", await FileAsync("zero,1,0.00,0.00,0.00", "high,1,2.95,3.01,3.05"));
        await DoAsync(
            "repeatability", "--instrument", "bench", "--from", await FileAsync("ld,1,0.45,0.86,1.04", "ld,2,0.46,0.86,1.05"));

        var (bench, twin) =
            (await _program.JsonAsync("instrument", "show", "bench"), await _program.JsonAsync("instrument", "show", "twin"));
        Assert.NotEqual(System.Text.Json.JsonValueKind.Null, bench.GetProperty("check").ValueKind);
        Assert.NotEqual(System.Text.Json.JsonValueKind.Null, bench.GetProperty("repeatability").ValueKind);
        Assert.Contains("made with twin yet", twin.GetProperty("checkLacking").GetString(), StringComparison.Ordinal);
        Assert.Equal(System.Text.Json.JsonValueKind.Null, twin.GetProperty("repeatability").ValueKind);
    }

    [Fact]
    public async Task Try_says_whether_the_profile_fits_and_which_one_does()
    {
        await DoAsync("instrument", "add", "bench", "--port", Port, "--profile", "rgb-columns", "--display-step", "0.001");
        _device.Lay();
        var (code, output, error) = await _program.RunAsync("instrument", "try", "--seconds", "2");
        Assert.Equal(1, code);
        Assert.Contains("rgb-columns does not fit", output, StringComparison.Ordinal);
        Assert.Contains("labelled-line takes every line", output, StringComparison.Ordinal);
        Assert.Contains("R 0.26 G 0.62 B 0.80", error, StringComparison.Ordinal);

        _device.Lay();
        var tried = await _program.JsonAsync("instrument", "try", "bench", "--profile", "labelled-line");
        Assert.Equal(("fits", 3), (tried.GetProperty("fit").GetString(), tried.GetProperty("readings").GetInt32()));
        Assert.Equal(0.01, tried.GetProperty("displayStep").GetDouble(), 1e-12);
        Assert.Contains("--display-step 0.01", tried.GetProperty("advice")[0].GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Try_of_a_port_that_is_not_there_ends_with_3()
    {
        await DoAsync("instrument", "add", "bench", "--port", "/dev/nosuch", "--profile", "labelled-line");

        Assert.Equal(3, (await _program.RunAsync("instrument", "try", "bench")).Code);
    }

    [Fact]
    public async Task Command_without_an_instrument_says_how_to_add_one()
    {
        var (code, _, error) = await _program.RunAsync("repeatability");

        Assert.Equal(2, code);
        Assert.Contains("acquire instrument add NAME --port PORT --profile PROFILE", error, StringComparison.Ordinal);
    }

    private string Port => _device.Options.ElementAt(1);

    private async Task DoAsync(params IEnumerable<string> arguments)
    {
        var (code, output, error) = await _program.RunAsync(arguments);
        Assert.True(code == 0, $"{string.Join(' ', arguments)}: {output}{error}");
    }

    private async Task<string> FileAsync(params string[] rows)
    {
        var file = Path.Combine(_program.Folder, $"{Guid.NewGuid():N}.csv");
        await File.WriteAllTextAsync(file, "patch,read,red,green,blue\n" + string.Join('\n', rows) + "\n", Token);
        return file;
    }
}
