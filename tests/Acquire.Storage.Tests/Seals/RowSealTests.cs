using Acquire.Storage.Rows;

namespace Acquire.Storage.Tests.Seals;

public sealed class RowSealTests : StoreFixture
{
    [Fact]
    public void Digest_tells_names_values_and_their_borders_apart_and_not_how_a_number_is_kept()
    {
        var digests = new object?[][]
        {
            ["a", "b"], ["ab", ""], ["a", "b", "c", "d"], ["a", "bcd"], ["a", 1L], ["a", 2L], ["a", 0.1], ["a", Array.Empty<byte>()], [],
        }.Select(parts => Convert.ToHexString(RowDigest.Of(parts))).ToList();

        Assert.Equal(digests.Count, digests.Distinct().Count());
        Assert.Equal(RowDigest.Of(["a", 1L]), RowDigest.Of(["a", 1.0]));
        Assert.Equal(RowDigest.Of(["a", -0.0]), RowDigest.Of(["a", 0.0]));
    }

    /// <summary>So that a later version may add a column to a table that is sealed already.</summary>
    [Fact]
    public void Column_that_is_null_leaves_the_digest_as_it_was()
    {
        Assert.Equal(RowDigest.Of(["a", "x"]), RowDigest.Of(["a", "x", "new", null]));
        Assert.Equal(RowDigest.Of(["a", "x"]), RowDigest.Of(["a", "x", "new", DBNull.Value]));
    }

    [Fact]
    public async Task Write_that_fails_leaves_no_seals()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        var before = await SealsAsync();

        _ = await Assert.ThrowsAsync<StoreException>(() => Store.WriteAsync<int>(
            db =>
            {
                _ = db.Execute("INSERT INTO strip (id) VALUES ('00000000-0000-7000-8000-000000000000')");
                throw new StoreException(StoreFault.Refused, "no");
            },
            Token));

        Assert.Equal(before, await SealsAsync());
    }

    /// <summary>After a fault the writer opens a new connection; that one seals too.</summary>
    [Fact]
    public async Task Connection_opened_after_a_fault_seals_too()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        _ = await Store.WriteAsync(db => db.Execute("PRAGMA query_only = ON"), Token);
        _ = await Assert.ThrowsAsync<StoreException>(() => Store.AddStripAsync(Some.Strip(), Token));
        await Store.AddStripAsync(Some.Strip(), Token);

        var report = await Acquire.Storage.Inspection.StoreInspection.InspectAsync(Folder.Database, Time, Token);
        Assert.True(report.IsSound);
        Assert.Equal(report.Contents.Values.Sum(), report.Seals);
    }

    [Fact]
    public async Task Two_writers_share_one_chain()
    {
        await using var other = await AcquireStore.OpenAsync(Folder.Path, Time, Token);
        await Store.AddLotAsync(Some.Lot, Token);
        await Task.WhenAll(Enumerable.Range(0, 20).Select(i => (i % 2 == 0 ? Store : other).AddStripAsync(Some.Strip(), Token)));

        Assert.True((await Acquire.Storage.Inspection.StoreInspection.InspectAsync(Folder.Database, Time, Token)).IsSound);
    }

    private Task<long> SealsAsync() => Store.WriteAsync(db => db.Scalar<long>("SELECT count(*) FROM row_seal"), Token);
}
