using System.Text;
using Acquire.Formats.Strips;

namespace Acquire.Formats.Tests;

public sealed class ExportFileTests : IDisposable
{
    private readonly TempFolder _folder = new();

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    private string Target => _folder.In("strips.csv");

    public void Dispose() => _folder.Dispose();

    [Fact]
    public async Task Write_replaces_what_was_there()
    {
        await File.WriteAllTextAsync(Target, "old and longer", Token);

        await ExportFile.WriteAsync(Target, (stream, token) => stream.WriteAsync("new"u8.ToArray(), token).AsTask(), Token);

        Assert.Equal("new", await File.ReadAllTextAsync(Target, Token));
        _ = Assert.Single(Directory.EnumerateFileSystemEntries(_folder.Path));
    }

    [Fact]
    public async Task Write_that_fails_half_way_leaves_the_old_file_and_nothing_else()
    {
        await File.WriteAllTextAsync(Target, "old", Token);

        var error = await Assert.ThrowsAsync<InvalidDataException>(() => ExportFile.WriteAsync(
            Target,
            async (stream, token) =>
            {
                await stream.WriteAsync(Encoding.UTF8.GetBytes(new string('x', 200_000)), token);
                throw new InvalidDataException("the source broke");
            },
            Token));

        Assert.Equal("the source broke", error.Message);
        Assert.Equal("old", await File.ReadAllTextAsync(Target, Token));
        _ = Assert.Single(Directory.EnumerateFileSystemEntries(_folder.Path));
    }

    [Fact]
    public async Task Write_cancelled_leaves_no_file()
    {
        using var cancel = CancellationTokenSource.CreateLinkedTokenSource(Token);

        _ = await Assert.ThrowsAnyAsync<OperationCanceledException>(() => ExportFile.WriteAsync(
            Target,
            async (stream, token) =>
            {
                await cancel.CancelAsync();
                await StripCsv.WriteAsync(Strips(), stream, token);
            },
            cancel.Token));

        Assert.Empty(Directory.EnumerateFileSystemEntries(_folder.Path));
    }

    [Fact]
    public async Task Write_into_a_folder_that_is_not_there_is_told()
    {
        var error = await Assert.ThrowsAsync<ExportException>(
            () => ExportFile.WriteAsync(_folder.In("none/strips.csv"), (_, _) => Task.CompletedTask, Token));

        Assert.Contains("none/strips.csv", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Write_disk_full_is_told()
    {
        Assert.SkipUnless(File.Exists("/dev/full"), "Needs a device that is always full.");

        _ = await Assert.ThrowsAsync<ExportException>(() => ExportFile.WriteAsync(
            Target,
            async (_, token) =>
            {
                await using var full = new FileStream("/dev/full", FileMode.Open, FileAccess.Write);
                await full.WriteAsync("x"u8.ToArray(), token);
                await full.FlushAsync(token);
            },
            Token));

        Assert.Empty(Directory.EnumerateFileSystemEntries(_folder.Path));
    }

    private static async IAsyncEnumerable<StripExport> Strips()
    {
        for (var i = 0; i < 1000; i++)
        {
            await Task.Yield();
            yield return Exports.Of(Some.Strip());
        }
    }
}
