namespace Acquire.Storage.Tests.Books;

public sealed class BooksTests : StoreFixture
{
    [Fact]
    public async Task Entries_of_every_kind_come_back_in_the_order_of_entry_after_reopening()
    {
        var entries = await FillAsync();
        await ReopenAsync();

        Deep.Equal(entries.ToArray(), (await Store.ListBookEntriesAsync(Token)).ToArray());
        Assert.Equal(9, entries.Select(e => e.GetType()).Distinct().Count());
    }

    [Fact]
    public async Task Any_entries_come_back()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        await SomeBooks.Books(Some.Lot.Code).SampleAsync(
            async entries =>
            {
                var before = (await Store.ListBookEntriesAsync(Token)).Count;
                await Store.AddBookEntriesAsync(entries, Token);
                Deep.Equal(entries.ToArray(), (await Store.ListBookEntriesAsync(Token)).Skip(before).ToArray());
            },
            iter: 60,
            threads: 1);
    }

    [Fact]
    public async Task Entry_dated_back_keeps_both_times_and_its_place_in_the_order_of_entry()
    {
        var late = new ProcessLine(SomeBooks.StampOf(Some.Evening), "machine", LineKind.BenchTopMachine, "c41");
        var early = new ProcessLine(SomeBooks.StampOf(Some.Evening.AddDays(-40)), "dip tank", LineKind.DipTank, "c41");
        await Store.AddBookEntriesAsync([late], Token);
        await Store.AddBookEntriesAsync([early], Token);

        var listed = await Store.ListBookEntriesAsync(Token);
        Assert.Equal([late.Id, early.Id], listed.Select(e => e.Id));
        Assert.Equal(Some.Evening.AddDays(-40), listed[1].HappenedAt);
        Assert.Equal(Some.Evening.AddHours(2), listed[1].Stamp.EnteredAt);
    }

    [Fact]
    public async Task Entries_are_kept_all_or_none()
    {
        var line = new ProcessLine(SomeBooks.StampOf(), "dip tank", LineKind.DipTank, "c41");
        var lost = new LineMethod(SomeBooks.StampOf(), Guid.NewGuid(), "slow", null, null);

        Assert.Equal(StoreFault.NotFound, await FaultAsync(line, lost));
        Assert.Empty(await Store.ListBookEntriesAsync(Token));
    }

    [Fact]
    public async Task What_refers_to_nothing_or_is_there_already_is_refused()
    {
        var line = new ProcessLine(SomeBooks.StampOf(), "dip tank", LineKind.DipTank, "c41");
        await Store.AddBookEntriesAsync([line], Token);

        Assert.Equal(StoreFault.Duplicate, await FaultAsync(line));
        Assert.Equal(StoreFault.NotFound, await FaultAsync(new StockMove(SomeBooks.StampOf(), "no lot", StockMoveKind.Added, 3)));
        Assert.Equal(
            StoreFault.NotFound, await FaultAsync(new FilmUse(SomeBooks.StampOf(), [FilmCount.OfArea(1)], [], line.Id, Guid.NewGuid())));
        await Store.AddBookEntriesAsync([new Withdrawal(SomeBooks.StampOf(), line.Id, "wrong name")], Token);
        Assert.Equal(StoreFault.Duplicate, await FaultAsync(new Withdrawal(SomeBooks.StampOf(), line.Id, "again")));
    }

    /// <summary>A bottle is no line, though both are entries.</summary>
    [Fact]
    public async Task Entry_that_refers_to_one_of_another_kind_is_refused()
    {
        var entries = await FillAsync();

        Assert.Equal(
            StoreFault.Refused,
            await FaultAsync(new LineMethod(SomeBooks.StampOf(), entries.OfType<Bottle>().Single().Id, "slow", null, null)));
    }

    [Fact]
    public async Task Views_leave_out_what_was_withdrawn_and_sum_the_areas()
    {
        var entries = await FillAsync();
        var use = entries.OfType<FilmUse>().Single();

        Assert.Equal(
            entries.Where(e => e is not (Withdrawal or BookEvent)).Select(e => e.Id.ToString()),
            await Store.WriteAsync(db => db.Query<string>("SELECT entry_id FROM standing_entry"), Token));
        Assert.Equal(0.31, await Store.WriteAsync(db => db.Scalar<double>("SELECT area FROM bottle_use"), Token), 12);

        await Store.AddBookEntriesAsync([new Withdrawal(SomeBooks.StampOf(), use.Id, "not this bottle")], Token);
        Assert.Equal(0, await Store.WriteAsync(db => db.Scalar<long>("SELECT count(*) FROM bottle_use"), Token));
    }

    private async Task<IReadOnlyList<BookEntry>> FillAsync()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        var strip = Some.Strip();
        await Store.AddStripAsync(strip, Token);
        var entries = SomeBooks.OneOfEach(strip.Id);
        await Store.AddBookEntriesAsync(entries, Token);
        return entries;
    }

    private async Task<StoreFault> FaultAsync(params BookEntry[] entries) =>
        (await Assert.ThrowsAsync<StoreException>(() => Store.AddBookEntriesAsync(entries, Token))).Fault;
}
