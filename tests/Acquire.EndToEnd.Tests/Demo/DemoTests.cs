using Acquire.EndToEnd.Tests.Support;

namespace Acquire.EndToEnd.Tests.Demo;

public sealed class DemoTests : IDisposable
{
    private readonly Darkroom _darkroom = new();

    public void Dispose() => _darkroom.Dispose();

    [Fact]
    public async Task Headless_demo_reads_three_strips_exports_them_and_leaves_no_data_behind()
    {
        var file = Path.Combine(_darkroom.Folder, "strips.csv");
        var temp = Directory.CreateDirectory(Path.Combine(_darkroom.Folder, "tmp")).FullName;
        await using var demo = RunningProgram.Start(
            "env",
            [$"TMPDIR={temp}", Path.Combine(AppContext.BaseDirectory, "acquire"), "demo", "--headless", "--out", file], _darkroom.Folder);
        Assert.True(await demo.ExitAsync() == 0, demo.Error);
        Assert.Empty(Directory.EnumerateFileSystemEntries(temp, "acquire-demo-*"));
        Assert.Contains("INSIDE the action limits", demo.Out, StringComparison.Ordinal);
        Assert.Contains("In the ACTION zone", demo.Out, StringComparison.Ordinal);
        Assert.Contains("OUT of control", demo.Out, StringComparison.Ordinal);

        // What is wrong with these strips the process did: there is nothing to ask about their reading.
        Assert.DoesNotContain("  ? ", demo.Error, StringComparison.Ordinal);
        Assert.DoesNotContain("Asked:", demo.Out, StringComparison.Ordinal);

        var text = await File.ReadAllTextAsync(file, TestContext.Current.CancellationToken);
        var header = text.Split("\r\n")[0].Split(',');
        var strip = Array.IndexOf(header, "strip");
        Assert.True(strip >= 0, text.Split("\r\n")[0]);
        Assert.Equal(
            3, text.Split("\r\n", StringSplitOptions.RemoveEmptyEntries).Skip(1).Select(r => r.Split(',')[strip]).Distinct().Count());
    }
}
