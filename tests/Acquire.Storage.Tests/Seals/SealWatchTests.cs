using Acquire.Storage.Records;

namespace Acquire.Storage.Tests.Seals;

/// <summary>
/// What is loaded is checked against its seals: a record that another program or a disk changed is named and left out, the others come.
/// </summary>
[Trait("speed", "slow")]
public sealed class SealWatchTests : StoreFixture
{
    [Theory]
    [InlineData(
        "UPDATE record_read SET red = '0.36' WHERE record = 'strip' AND revision_id = 2 AND patch_position = 1 AND read_number = 1",
        "strip_read [2,1,1] is not as it was written")]
    [InlineData(
        "UPDATE strip_mean SET mean = mean + 0.1 WHERE revision_id = 2 AND position = 1", "strip_mean [2,1] is not as it was written")]
    [InlineData("UPDATE strip_aim SET reference = 0.5 WHERE revision_id = 2 AND position = 1", "strip_aim [2,1] is not as it was written")]
    [InlineData(
        "UPDATE record_line SET bytes = x'00' WHERE record = 'strip' AND revision_id = 2 AND patch_position = 1",
        "strip_line [2,1,1,1] is not as it was written")]
    [InlineData("UPDATE strip_revision SET note = 'other' WHERE revision_id = 2", "strip_revision [2] is not as it was written")]
    [InlineData("DELETE FROM strip_mean WHERE revision_id = 2 AND position = 2", "strip_mean [2,2] was written and is gone")]
    [InlineData("INSERT INTO strip_repeatability VALUES (2, 'red', 0.1, 9)", "strip_repeatability [2,\"red\"] has no seal")]
    [InlineData(
        "UPDATE row_seal SET hash = zeroblob(32) WHERE table_name = 'strip_aim' AND row_key = '[2,1]'",
        "strip_aim [2,1] is not as it was written")]
    public async Task Strip_that_was_changed_is_left_out_and_told_and_the_others_come(string tampering, string told)
    {
        var strips = await ThreeStripsAsync();
        RawFile.Tamper(Folder.Database, tampering);

        var listed = await Store.ListStripsAsync(StripFilter.All, Token).Select(s => s.Id).ToListAsync(Token);

        Assert.Equal(new[] { strips[0], strips[2] }.Order(), listed.Order());
        var left = Assert.Single(Store.LeftOut);
        Assert.Contains($"strip {strips[1]}, revision 1", left, StringComparison.Ordinal);
        Assert.Contains(told, left, StringComparison.Ordinal);
        var error = await Assert.ThrowsAsync<StoreException>(() => Store.FindStripAsync(strips[1].ToString(), Token));
        Assert.Equal(StoreFault.Damaged, error.Fault);
        Assert.NotNull(await Store.FindStripAsync(strips[0].ToString(), Token));
    }

    /// <summary>Two records whose numbers begin alike are told apart.</summary>
    [Fact]
    public async Task Strip_of_a_number_that_begins_like_another_is_not_taken_for_it()
    {
        _ = await ThreeStripsAsync();
        for (var i = 0; i < 20; i++)
        {
            await Store.AddStripAsync(Some.Strip(), Token);
        }

        RawFile.Tamper(Folder.Database, "DELETE FROM strip_mean WHERE revision_id = 21 AND position = 2");

        Assert.Equal(22, await Store.ListStripsAsync(StripFilter.All, Token).CountAsync(Token));
        Assert.Contains("strip_mean [21,2]", Assert.Single(Store.LeftOut), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Sheet_that_was_changed_leaves_out_what_was_judged_by_it()
    {
        _ = await ThreeStripsAsync();
        RawFile.Tamper(Folder.Database, "UPDATE process_snapshot SET name = 'other'");

        Assert.Equal(0, await Store.ListStripsAsync(StripFilter.All, Token).CountAsync(Token));
        Assert.Contains(Store.LeftOut, l => l.StartsWith("The process sheet other is left out", StringComparison.Ordinal));
        Assert.Equal(3, Store.LeftOut.Count(l => l.Contains("it cannot be read (the process sheet", StringComparison.Ordinal)));
    }

    /// <summary>In a list the others come; what is asked for by name, or judged by, is refused.</summary>
    [Theory]
    [InlineData("lot", "UPDATE lot_patch SET name = 'other' WHERE position = 1 AND lot_code = 'A1207'")]
    [InlineData("plaque", "UPDATE plaque SET tolerance = tolerance / 2")]
    [InlineData("calibration check", "UPDATE record_read SET red = '0.99' WHERE record = 'calibration_check'")]
    [InlineData("repeatability test", "UPDATE repeatability_test SET passed = 1 - passed")]
    [InlineData("recheck", "UPDATE record_read SET red = '0.99' WHERE record = 'reference_recheck'")]
    [InlineData("reference reading", "UPDATE record_read SET red = '0.99' WHERE record = 'lot_reference' AND revision_id = 1")]
    [InlineData("crossover", "UPDATE aim_adjustment_value SET value = 0.1")]
    [InlineData("entry of the books", "UPDATE stock_move SET strips = strips + 1")]
    [InlineData("entry of the books", "UPDATE book_entry SET happened_at = entered_at, note = 'other' WHERE sequence = 2")]
    [InlineData("bench session", "UPDATE bench_session SET read_by = 'other'")]
    [InlineData("lines of the bench session", "UPDATE session_line SET bytes = x'00'")]
    [InlineData("journal of the bench session", "UPDATE session_entry SET at = '2026-03-12T18:31:00.0000000+00:00'")]
    [InlineData("plan of the bench session", "UPDATE session_plan_patch SET name = 'other' WHERE position = 1")]
    [InlineData("listening to an instrument", "UPDATE listening_entry SET bytes = x'00'")]
    [InlineData("loose reading", "UPDATE loose_taken SET part = part + 1")]
    [InlineData("session led by a service", "UPDATE service_session SET keep_after = 0")]
    public async Task Any_other_record_that_was_changed_is_told(string what, string tampering)
    {
        await Filled.FillAsync(Store, Token);
        var before = await Everything.LoadAsync(Store, Token);
        Assert.DoesNotContain(before, said => said.Contains("acquire verify", StringComparison.Ordinal));
        RawFile.Tamper(Folder.Database, tampering);

        Assert.Contains(await Everything.LoadAsync(Store, Token), said => said.StartsWith($"The {what} ", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Whole_store_leaves_nothing_out()
    {
        await Filled.FillAsync(Store, Token);

        Assert.Equal(3, await Store.ListStripsAsync(StripFilter.All, Token).CountAsync(Token));
        Assert.Empty(Store.LeftOut);
    }

    private async Task<Guid[]> ThreeStripsAsync()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        var strips = Enumerable.Range(0, 3).Select(_ => Some.Strip()).ToArray();
        foreach (var strip in strips)
        {
            await Store.AddStripAsync(strip, Token);
        }

        return [.. strips.Select(s => s.Id)];
    }
}
