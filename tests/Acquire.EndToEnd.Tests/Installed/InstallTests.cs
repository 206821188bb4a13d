using System.Runtime.Versioning;
using Acquire.EndToEnd.Tests.Support;

namespace Acquire.EndToEnd.Tests.Installed;

/// <summary>Installing into a tree of its own; what the system itself is asked for is tried by hand, as DEVELOPERS.md says.</summary>
[UnsupportedOSPlatform("windows")]
public sealed class InstallTests : IDisposable
{
    private const UnixFileMode ForAll = UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute
        | UnixFileMode.GroupRead | UnixFileMode.GroupExecute | UnixFileMode.OtherRead | UnixFileMode.OtherExecute;

    private readonly string _folder = Directory.CreateTempSubdirectory("acquire-install-").FullName;
    private readonly string _published;
    private readonly string _root;

    public InstallTests()
    {
        Tools.Require("bash", "sed", "setpriv");
        (_published, _root) = (Path.Combine(_folder, "published"), Path.Combine(_folder, "root"));
        Publish("1");
        Put("var/lib/acquire/acquire.db", "records");
        Put("etc/acquire/serve.env", "settings");
    }

    private static string Script => Path.Combine(AppContext.BaseDirectory, "Tools", "install");

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task Install_puts_program_unit_and_rule_and_a_second_one_replaces_the_program()
    {
        await DoAsync("--from", _published);
        Assert.Equal("1", Read("opt/acquire/acquire.dll"));
        Assert.Equal("/opt/acquire/acquire", new FileInfo(At("usr/local/bin/acquire")).LinkTarget);
        Assert.Contains(
            "ExecStart=/opt/acquire/acquire serve --data /var/lib/acquire\n",
            Read("etc/systemd/system/acquire.service"),
            StringComparison.Ordinal);
        Assert.Contains("GROUP=\"dialout\"", Read("etc/udev/rules.d/60-acquire.rules"), StringComparison.Ordinal);

        Publish("2");
        File.Delete(Path.Combine(_published, "of-the-first"));
        await DoAsync("--from", _published);
        Assert.Equal("2", Read("opt/acquire/acquire.dll"));
        Assert.Equal(["acquire", "acquire.dll"], Directory.GetFiles(At("opt/acquire")).Select(Path.GetFileName).Order());
        Assert.Equal(["acquire"], Directory.GetDirectories(At("opt")).Select(Path.GetFileName));
    }

    [Fact]
    public async Task Program_can_be_changed_by_its_owner_alone()
    {
        await DoAsync("--from", _published);
        const UnixFileMode ofOthers = UnixFileMode.GroupWrite | UnixFileMode.OtherWrite;
        Assert.All(
            Directory.EnumerateFileSystemEntries(At("opt"), "*", SearchOption.AllDirectories),
            entry => Assert.Equal(UnixFileMode.None, File.GetUnixFileMode(entry) & ofOthers));
    }

    [Fact]
    public async Task Uninstall_takes_all_away_and_touches_no_record_and_no_setting()
    {
        var before = Tree();
        await DoAsync("--from", _published);
        await DoAsync("--uninstall");
        Assert.Equal(before, Tree());
        await DoAsync("--uninstall");
        Assert.Equal(before, Tree());
    }

    [Fact]
    public async Task Dry_run_shows_and_does_nothing()
    {
        var before = Tree();
        var said = await DoAsync("--from", _published, "--dry-run");
        Assert.Contains("write " + At("etc/systemd/system/acquire.service"), said, StringComparison.Ordinal);
        Assert.Contains("Nothing was done.", said, StringComparison.Ordinal);
        Assert.Equal(before, Tree());
    }

    [Fact]
    public async Task Service_of_a_user_sees_that_users_records_and_no_other_home()
    {
        await DoAsync("--from", _published, "--as", "staff", "--data", "/home/staff/records", "--group", "uucp");
        var unit = Read("etc/systemd/system/acquire.service").Split('\n');
        Assert.Contains("User=staff", unit);
        Assert.Contains("ExecStart=/opt/acquire/acquire serve --data /home/staff/records", unit);
        Assert.Contains("SupplementaryGroups=uucp", unit);
        Assert.Contains("ProtectHome=tmpfs", unit);
        Assert.Contains("BindPaths=/home/staff/records", unit);
        Assert.DoesNotContain(
            unit,
            line => line.StartsWith("StateDirectory", StringComparison.Ordinal) || line.StartsWith("Group=", StringComparison.Ordinal));
        Assert.Contains("GROUP=\"uucp\"", Read("etc/udev/rules.d/60-acquire.rules"), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("needs a value", "--from")]
    [InlineData("Unknown: --start", "--start")]
    [InlineData("no published folder", "--from", "/etc")]
    [InlineData("needs --data", "--as", "staff")]
    [InlineData("whole path", "--as", "staff", "--data", "records")]
    [InlineData("may hold", "--as", "staff", "--data", "/home/staff/my records")]
    [InlineData("may hold", "--as", "staff", "--data", "/home/staff/records\nExecStartPre=/bin/sh")]
    public async Task What_cannot_be_is_refused_before_anything_is_changed(string why, params string[] arguments)
    {
        var before = Tree();
        var (code, said) = await RunAsync(["--root", _root, .. arguments]);
        Assert.Equal(2, code);
        Assert.Contains(why, said, StringComparison.Ordinal);
        Assert.Equal(before, Tree());
    }

    [Fact]
    public async Task Folder_of_another_program_is_left_as_it_is()
    {
        Put("opt/acquire/something", "else");
        var before = Tree();
        foreach (string[] arguments in new[] { new[] { "--from", _published }, ["--uninstall"] })
        {
            var (code, said) = await RunAsync(["--root", _root, .. arguments]);
            Assert.Equal(2, code);
            Assert.Contains("holds something else", said, StringComparison.Ordinal);
            Assert.Equal(before, Tree());
        }
    }

    [Fact]
    public async Task Who_is_not_root_is_told_what_to_do()
    {
        Assert.SkipUnless(Environment.IsPrivilegedProcess, "Only root can become nobody.");
        var copy = Path.Combine(_folder, "install");
        File.Copy(Script, copy);
        File.SetUnixFileMode(_folder, ForAll);
        File.SetUnixFileMode(copy, ForAll);
        await using var install = RunningProgram.Start("setpriv", ["--reuid", "65534", "--clear-groups", "bash", copy], "/");
        Assert.Equal(2, await install.ExitAsync());
        Assert.Contains("sudo", install.Error, StringComparison.Ordinal);
    }

    private void Publish(string version)
    {
        _ = Directory.CreateDirectory(_published);
        File.WriteAllText(Path.Combine(_published, "acquire.dll"), version);
        File.WriteAllText(Path.Combine(_published, "of-the-first"), "");
        File.WriteAllText(Path.Combine(_published, "acquire"), "#!/bin/sh\n");
        File.SetUnixFileMode(Path.Combine(_published, "acquire"), ForAll | UnixFileMode.OtherWrite);
    }

    private async Task<string> DoAsync(params string[] arguments)
    {
        var (code, said) = await RunAsync(["--root", _root, .. arguments]);
        Assert.True(code == 0, said);
        return said;
    }

    private async Task<(int Code, string Said)> RunAsync(IEnumerable<string> arguments)
    {
        await using var install = RunningProgram.Start("bash", [Script, .. arguments], _folder);
        var code = await install.ExitAsync();
        return (code, install.Out + install.Error);
    }

    private string At(string path) => Path.Combine(_root, path);

    private string Read(string path) => File.ReadAllText(At(path));

    private void Put(string path, string text)
    {
        _ = Directory.CreateDirectory(Path.GetDirectoryName(At(path))!);
        File.WriteAllText(At(path), text);
    }

    /// <summary>All files with what is in them; folders that are empty say nothing.</summary>
    private List<string> Tree() =>
        [.. Directory.EnumerateFiles(_root, "*", SearchOption.AllDirectories).Order().Select(f => $"{f}: {File.ReadAllText(f)}")];
}
