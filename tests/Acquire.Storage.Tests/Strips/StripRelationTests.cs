namespace Acquire.Storage.Tests.Strips;

public sealed class StripRelationTests : StoreFixture
{
    [Theory]
    [InlineData(Treatment.None)]
    [InlineData(Treatment.ReBleach)]
    [InlineData(Treatment.ReFix)]
    [InlineData(Treatment.ReWash)]
    [InlineData(Treatment.Drying)]
    public async Task Strip_read_again_keeps_what_was_done_before(Treatment treatment)
    {
        await Store.AddLotAsync(Some.Lot, Token);
        var first = Some.Strip();
        await Store.AddStripAsync(first, Token);
        var again = Some.Strip() with 
        {
            Tags = new StripTags { Reread = new Reread(first.Id, treatment), Handling = "reel 2, lower place; 37.9 at start, 37.4 at end" },
        };
        await Store.AddStripAsync(again, Token);

        Deep.Equal(again, await Store.FindStripAsync(again.Id.ToString(), Token));
        Assert.Equal(treatment, Treatments.Parse(treatment.Word().ToUpperInvariant()));
    }

    [Fact]
    public async Task Strip_confirming_and_paired_reads_back()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        var first = Some.Strip();
        await Store.AddStripAsync(first, Token);
        var second = Some.Strip() with { Tags = new StripTags { Confirms = first.Id, PairedWith = first.Id } };
        await Store.AddStripAsync(second, Token);

        Deep.Equal(second, await Store.FindStripAsync(second.Id.ToString(), Token));
    }

    [Fact]
    public async Task Strip_that_refers_to_none_is_refused()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        var strip = Some.Strip();

        var fault = await Assert.ThrowsAsync<StoreException>(
            () => Store.AddStripAsync(strip with { Tags = new StripTags { PairedWith = Guid.CreateVersion7() } }, Token));
        Assert.Equal(StoreFault.NotFound, fault.Fault);
        Assert.Null(await Store.FindStripAsync(strip.Id.ToString(), Token));
    }
}
