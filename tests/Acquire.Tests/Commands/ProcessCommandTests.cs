namespace Acquire.Tests.Commands;

public sealed class ProcessCommandTests : IDisposable
{
    private readonly InMemory _program = new() { BeginsWithStore = false };

    public void Dispose() => _program.Dispose();

    [Fact]
    public async Task Show_says_where_the_limits_come_from()
    {
        var (code, output, _) = await _program.RunAsync("process", "show", "c41");
        Assert.Equal(0, code);
        Assert.Contains("common practice, from memory", output, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("the sheet packed with the strips rules", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Show_of_an_unknown_process_lists_those_there_are()
    {
        var (code, _, error) = await _program.RunAsync("process", "show", "x-99");
        Assert.Equal(2, code);
        Assert.Contains("c41", error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task List_shows_layouts_and_that_limits_are_to_be_filled_in()
    {
        var (code, output, _) = await _program.RunAsync("process", "list");
        Assert.Equal(0, code);
        Assert.Matches(@"c41\s+C-41\s+M\s+set\s+usual \(5 patches\), twelve \(12 patches\)", output);
        Assert.Matches(@"ra4\s+RA-4\s+A, reflection\s+none yet\s+usual \(4 patches\)", output);
        var sheets = (await _program.JsonAsync("process", "list")).EnumerateArray().ToList();
        Assert.Equal(["bw", "c41", "e6", "ecn2", "ra4"], sheets.Select(s => s.GetProperty("key").GetString()));
    }

    [Fact]
    public async Task List_with_a_faulty_sheet_of_the_users_tells_the_fault_and_lists_the_others()
    {
        await _program.RunAsync("process", "new", "e6");
        var file = Path.Combine(_program.Folder, "processes", "e6.json");
        await File.AppendAllTextAsync(file, "}", TestContext.Current.CancellationToken);
        var (code, output, error) = await _program.RunAsync("process", "list");
        Assert.Equal(2, code);
        Assert.Contains("e6.json, line ", error, StringComparison.Ordinal);
        Assert.Contains("ra4", output, StringComparison.Ordinal);
        Assert.DoesNotContain("E-6", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Limits_of_single_channels_are_shown_channel_by_channel()
    {
        await _program.RunAsync("process", "new", "ra4");
        var file = Path.Combine(_program.Folder, "processes", "ra4.json");
        var text = await File.ReadAllTextAsync(file, TestContext.Current.CancellationToken);
        var at = text.IndexOf("\"channels\"", StringComparison.Ordinal);
        await File.WriteAllTextAsync(
            file,
            text.Insert(at, "\"limits\": { \"red\": { \"control\": { \"upper\": 0.1, \"source\": \"box\" } }, \"blue\": {} }, "),
            TestContext.Current.CancellationToken);
        var (code, output, error) = await _program.RunAsync("process", "show", "ra4");
        Assert.True(code == 0, error);
        Assert.Contains("R +0.10, G none, B none", output, StringComparison.Ordinal);
        Assert.Contains("Source of the limits: box", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Show_of_a_sheet_without_limits_says_why_and_what_to_do()
    {
        var (_, output, _) = await _program.RunAsync("process", "show", "e6");
        Assert.Contains("Copy them from the sheet packed with the strips: acquire process new e6", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task New_copies_a_sheet_to_be_filled_in_and_check_takes_what_was_filled_in()
    {
        var file = Path.Combine(_program.Folder, "processes", "e6.json");
        var (code, output, error) = await _program.RunAsync("process", "new", "e6");
        Assert.True(code == 0, error);
        Assert.Contains(file, output, StringComparison.Ordinal);
        var text = await File.ReadAllTextAsync(file, TestContext.Current.CancellationToken);
        await File.WriteAllTextAsync(
            file,
            text.Replace("\"upper\": null", "\"upper\": 0.1", StringComparison.Ordinal).Replace(
                "\"source\": null", "\"source\": \"box\"", StringComparison.Ordinal),
            TestContext.Current.CancellationToken);
        var check = await _program.RunAsync("process", "check", file);
        Assert.Equal(0, check.Code);
        Assert.DoesNotContain("Without limits", check.Out, StringComparison.Ordinal);
        Assert.Matches(@"HD\s+upper scale\s+hd, R G B\s+\+0.10\s+\+0.10", (await _program.RunAsync("process", "show", "e6")).Out);
    }

    [Fact]
    public async Task New_does_not_write_over_a_sheet_unless_told()
    {
        await _program.RunAsync("process", "new", "c41");
        var (code, _, error) = await _program.RunAsync("process", "new", "c41", "--name", "Ours");
        Assert.Equal(2, code);
        Assert.Contains("--force", error, StringComparison.Ordinal);
        Assert.Equal(0, (await _program.RunAsync("process", "new", "c41", "--name", "Ours", "--replace")).Code);
        Assert.StartsWith("Ours, status M", (await _program.RunAsync("process", "show", "c41")).Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task New_marks_steps_and_the_lot_takes_the_layout_over()
    {
        await _program.RunAsync("lot", "add", "1", "--process", "c41", "--layout", "twelve");
        await _program.RunAsync("process", "new", "c41", "--layout", "twelve", "--mark", "ld=4", "--mark", "hd=8");
        var (code, _, error) =
            await _program.RunAsync("lot", "add", "2", "--process", "c41", "--layout", "twelve", "--factor", "ld 0.01 0 0");
        Assert.True(code == 0, error);
        Assert.Equal("", error);
        var patches = (await _program.JsonAsync("lot", "show", "2")).GetProperty("lot").GetProperty("patches").EnumerateArray().Select(
            p => p.GetString());
        Assert.Equal(["dmin", "step2", "step3", "ld", "step5", "step6", "step7", "hd", "step9", "step10", "dmax", "yellow"], patches);
    }

    [Fact]
    public async Task Lot_of_a_layout_that_lacks_patches_says_what_is_not_on_its_strips()
    {
        var (code, _, error) = await _program.RunAsync("lot", "add", "1", "--process", "c41", "--layout", "twelve");
        Assert.Equal(0, code);
        Assert.Contains("LD, HD − LD, Colour spread of HD − LD", error, StringComparison.Ordinal);
        Assert.Contains("--mark ld=PLACE", error, StringComparison.Ordinal);
        Assert.Equal(2, (await _program.RunAsync("lot", "add", "2", "--process", "c41", "--layout", "nine")).Code);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(100)]
    public async Task New_makes_sheets_for_home_made_strips_of_any_patches(int patches)
    {
        var list = string.Join(',', Enumerable.Range(1, patches).Select(n => $"p{n}"));
        var (code, _, error) = await _program.RunAsync("process", "new", "home", "--patches", list, "--status", "visual");
        Assert.True(code == 0, error);
        Assert.Equal(0, (await _program.RunAsync("lot", "add", "1", "--process", "home")).Code);
        Assert.Equal(patches, (await _program.JsonAsync("lot", "show", "1")).GetProperty("lot").GetProperty("patches").GetArrayLength());
    }

    [Fact]
    public async Task New_makes_a_wedge_into_a_file_of_ones_own()
    {
        var file = Path.Combine(_program.Folder, "wedge", "w.json");
        Assert.Equal(0, (await _program.RunAsync("process", "new", "w", "--steps", "21", "--increment", "0.15", "--out", file)).Code);
        Assert.Equal(0, (await _program.RunAsync("process", "check", file)).Code);
    }

    [Theory]
    [InlineData("process", "new", "nothing")]
    [InlineData("process", "new", "Up Per", "--from", "c41")]
    [InlineData("process", "new", "../c41", "--from", "c41")]
    [InlineData("process", "new", "a", "--from", "c41", "--patches", "a,b")]
    [InlineData("process", "new", "a", "--patches", "a,a")]
    [InlineData("process", "new", "a", "--patches", "")]
    [InlineData("process", "new", "a", "--patches", "a", "--status", "Q")]
    [InlineData("process", "new", "a", "--steps", "21")]
    [InlineData("process", "new", "c41", "--status", "A")]
    [InlineData("process", "new", "c41", "--mark", "ld")]
    [InlineData("process", "new", "c41", "--mark", "ld=99")]
    [InlineData("process", "check", "/nowhere/x.json")]
    public async Task What_cannot_be_is_refused_as_bad_input_and_writes_nothing(params string[] arguments)
    {
        var (code, _, error) = await _program.RunAsync(arguments);
        Assert.Equal(2, code);
        Assert.NotEmpty(error);
        Assert.False(Directory.Exists(Path.Combine(_program.Folder, "processes")));
    }

    [Fact]
    public async Task Check_tells_every_fault_with_line_and_column()
    {
        var file = Path.Combine(_program.Folder, "bad.json");
        await File.WriteAllTextAsync(
            file,
            """
            { "key": "x", "name": "X", "status": "Q",
              "layout": { "name": "l", "patches": [{ "key": "a", "name": "A" }] },
              "parameters": [{ "key": "p", "name": "P", "standsFor": "", "kind": "patch", "patch": "a", "channels": ["cyan"] }] }
            """,
            TestContext.Current.CancellationToken);
        var (code, _, error) = await _program.RunAsync("process", "check", file);
        Assert.Equal(2, code);
        Assert.Contains(
            "bad.json, line 1, column 38, $.status: Expected: A density status, M, A or visual", error, StringComparison.Ordinal);
        Assert.Contains("bad.json, line 3, column 106, $.parameters[0].channels[0]: Expected: A channel", error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Schema_is_printed_as_json()
    {
        var (code, output, _) = await _program.RunAsync("process", "schema");
        Assert.Equal(0, code);
        Assert.Equal("Process sheet", System.Text.Json.JsonDocument.Parse(output).RootElement.GetProperty("title").GetString());
    }
}
