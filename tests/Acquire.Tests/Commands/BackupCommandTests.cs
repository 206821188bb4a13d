namespace Acquire.Tests.Commands;

public sealed class BackupCommandTests : IDisposable
{
    private readonly InMemory _program = new();

    public void Dispose() => _program.Dispose();

    [Fact]
    public async Task Backup_opens_as_a_store_with_the_same_lots()
    {
        await _program.RunAsync("lot", "add", "2417", "--process", "c41");
        var folder = Directory.CreateDirectory(Path.Combine(_program.Folder, "copy")).FullName;
        var (code, _, error) = await _program.RunAsync("backup", Path.Combine(folder, "acquire.db"));
        Assert.True(code == 0, error);

        using var copy = new InMemory();
        File.Copy(Path.Combine(folder, "acquire.db"), Path.Combine(copy.Folder, "acquire.db"));
        Assert.Equal("2417", (await copy.JsonAsync("lot", "list"))[0].GetProperty("code").GetString());
    }

    [Fact]
    public async Task Backup_never_overwrites()
    {
        var file = Path.Combine(_program.Folder, "precious.db");
        await File.WriteAllTextAsync(file, "precious", TestContext.Current.CancellationToken);
        var (code, _, error) = await _program.RunAsync("backup", file);
        Assert.NotEqual(0, code);
        Assert.Contains(file, error, StringComparison.Ordinal);
        Assert.Equal("precious", await File.ReadAllTextAsync(file, TestContext.Current.CancellationToken));
    }
}
