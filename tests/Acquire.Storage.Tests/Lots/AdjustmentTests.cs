namespace Acquire.Storage.Tests.Lots;

public sealed class AdjustmentTests : StoreFixture
{
    [Fact]
    public async Task Adjustment_and_baseline_read_back_as_they_were()
    {
        var (lot, own, pair) = await FillAsync();
        var adjustment = Some.Adjustment(lot, own.Id, pair);
        await Store.AddAdjustmentAsync(adjustment, Token);

        Deep.Equal(adjustment, Assert.Single(await Store.ListAdjustmentsAsync("a1311", Token)));
        Deep.Equal(own, await Store.CurrentReferenceAsync(lot, Token));
        Assert.Empty(await Store.ListAdjustmentsAsync(Some.Lot.Code, Token));
    }

    [Fact]
    public async Task Adjustment_of_a_reference_no_longer_in_force_is_refused()
    {
        var (lot, own, pair) = await FillAsync();
        await Store.AddReferenceAsync(Some.Reference(lot: lot), Token);

        var error = await Assert.ThrowsAsync<StoreException>(() => Store.AddAdjustmentAsync(Some.Adjustment(lot, own.Id, pair), Token));

        Assert.Equal(StoreFault.Conflict, error.Fault);
        Assert.Empty(await Store.ListAdjustmentsAsync(lot, Token));
    }

    private async Task<(string Lot, Domain.Lots.LotReference Own, Domain.Lots.StripPair Pair)> FillAsync()
    {
        const string Next = "A1311";
        await Store.AddLotAsync(Some.Lot, Token);
        await Store.AddLotAsync(Some.OtherLot(Next), Token);
        var (old, young) = (Some.Strip(), Some.Strip(lot: Next));
        await Store.AddStripAsync(old, Token);
        await Store.AddStripAsync(young, Token);
        var own = Some.Reference(lot: Next) with { BaselineStrips = [young.Id] };
        await Store.AddReferenceAsync(own, Token);
        return (Next, own, new(old.Id, young.Id));
    }
}
