using Acquire.EndToEnd.Tests.Support;

namespace Acquire.EndToEnd.Tests.Faults;

/// <summary>A user who may not open the port is told which group may.</summary>
[Trait("speed", "slow")]
public sealed class PermissionTests : IDisposable
{
    private const string Nobody = "65534";

    private readonly Darkroom _darkroom = new();

    public void Dispose() => _darkroom.Dispose();

    [Fact]
    public async Task Port_of_another_group_names_the_group()
    {
        Tools.Require("socat", "setpriv", "chmod");
        Assert.SkipUnless(Environment.IsPrivilegedProcess, "Only root can become another user.");
        await using var cable = await SerialCable.LayAsync(_darkroom.Folder, ",mode=660,group=dialout");
        await _darkroom.AddLotAsync();
        await using var open = RunningProgram.Start("chmod", ["-R", "a+rwX", _darkroom.Folder]);
        Assert.Equal(0, await open.ExitAsync());
        Assert.SkipUnless(await AsNobody("--help").ExitAsync() == 0, "Another user cannot run the program where it was built.");

        await using var read =
            AsNobody("read", "--port", cable.Near, "--profile", "labelled-line", "--lot", Darkroom.Lot, "--data", _darkroom.Data);
        Assert.Equal(3, await read.ExitAsync());
        Assert.Contains("dialout", read.Error, StringComparison.Ordinal);
        Assert.Contains(cable.Near, read.Error, StringComparison.Ordinal);
    }

    private RunningProgram AsNobody(params IEnumerable<string> arguments) => RunningProgram.Start(
        "setpriv",
        [$"--reuid={Nobody}", $"--regid={Nobody}", "--clear-groups", Path.Combine(AppContext.BaseDirectory, "acquire"), .. arguments],
        _darkroom.Folder);
}
