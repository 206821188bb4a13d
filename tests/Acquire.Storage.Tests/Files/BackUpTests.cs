namespace Acquire.Storage.Tests.Files;

public sealed class BackUpTests : StoreFixture
{
    [Fact]
    public async Task BackUp_opens_as_a_store_with_everything_in_one_file()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        var strip = Some.Strip();
        await Store.AddStripAsync(strip, Token);
        var target = Directory.CreateDirectory(Folder.In("copy")).FullName;

        await Store.BackUpAsync(Path.Combine(target, "acquire.db"), Token);

        Assert.Equal(["acquire.db"], Directory.EnumerateFiles(target).Select(Path.GetFileName));
        await using var copy = await AcquireStore.OpenAsync(target, Time, Token);
        Deep.Equal(strip, await copy.FindStripAsync(strip.Id.ToString(), Token));
    }

    [Fact]
    public async Task BackUp_onto_a_file_is_refused_and_the_file_unharmed()
    {
        await File.WriteAllTextAsync(Folder.In("b.db"), "mine", Token);

        var error = await Assert.ThrowsAsync<StoreException>(() => Store.BackUpAsync(Folder.In("b.db"), Token));

        Assert.Equal(StoreFault.Duplicate, error.Fault);
        Assert.Equal("mine", await File.ReadAllTextAsync(Folder.In("b.db"), Token));
    }

    [Fact]
    public async Task BackUp_into_a_folder_that_is_not_there_is_told()
    {
        var error = await Assert.ThrowsAsync<StoreException>(() => Store.BackUpAsync(Folder.In("none/b.db"), Token));

        Assert.Equal(StoreFault.CannotOpen, error.Fault);
        Assert.Contains("none/b.db", error.Message, StringComparison.Ordinal);
    }
}
