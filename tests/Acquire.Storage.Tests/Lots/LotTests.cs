namespace Acquire.Storage.Tests.Lots;

public sealed class LotTests : StoreFixture
{
    [Fact]
    public async Task AddLot_same_code_in_other_case_is_refused()
    {
        await Store.AddLotAsync(Some.Lot, Token);

        var error = await Assert.ThrowsAsync<StoreException>(() => Store.AddLotAsync(new("a1207", "c41", Some.Layout), Token));

        Assert.Equal(StoreFault.Duplicate, error.Fault);
        Assert.Contains("a1207", error.Message, StringComparison.Ordinal);
        Deep.Equal(Some.Lot, await Store.FindLotAsync("a1207", Token));
    }

    [Fact]
    public async Task CurrentReference_is_the_one_added_last()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        Assert.Null(await Store.CurrentReferenceAsync(Some.Lot.Code, Token));
        var first = Some.Reference();
        var second = Some.Reference();
        var corrected = new LotReference(
            first.Id, first.LotCode,
            [.. first.Patches.Skip(1)], first.Provenance, new Revision(2, "Tom", Some.Evening.AddDays(1), "D-min was dirty"));
        await Store.AddReferenceAsync(first, Token);
        await Store.AddReferenceAsync(second, Token);
        Deep.Equal(second, await Store.CurrentReferenceAsync(Some.Lot.Code, Token));

        await Store.AddReferenceAsync(corrected, Token);

        Deep.Equal(corrected, await Store.CurrentReferenceAsync(Some.Lot.Code, Token));
        Deep.Equal(new[] { first, second, corrected }, (await Store.ListReferencesAsync("a1207", Token)).ToArray());
    }

    [Fact]
    public async Task AddReference_wrong_revision_is_refused()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        var reference = Some.Reference();

        Assert.Equal(StoreFault.Conflict, await FaultAsync(Some.Reference(reference.Id, 2)));
        await Store.AddReferenceAsync(reference, Token);
        Assert.Equal(StoreFault.Conflict, await FaultAsync(reference));
        Assert.Equal(StoreFault.Conflict, await FaultAsync(Some.Reference(reference.Id, 3)));
    }

    [Fact]
    public async Task AddReference_unknown_lot_is_refused() => Assert.Equal(StoreFault.NotFound, await FaultAsync(Some.Reference()));

    private async Task<StoreFault> FaultAsync(LotReference reference) =>
        (await Assert.ThrowsAsync<StoreException>(() => Store.AddReferenceAsync(reference, Token))).Fault;
}
