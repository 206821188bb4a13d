using Acquire.Storage.Inspection;
using Dapper;
using Microsoft.Data.Sqlite;

namespace Acquire.Storage.Tests.Inspection;

/// <summary>What was changed, taken out or put in by another program is told, and what was not is sound.</summary>
[Trait("speed", "slow")]
public sealed class StoreInspectionTests : StoreFixture
{
    [Fact]
    public async Task Store_with_something_of_everything_is_sound_and_every_row_is_sealed()
    {
        await Filled.FillAsync(Store, Token);
        var report = await InspectAsync();

        Assert.True(report.IsSound, Words(report));
        Assert.Equal(report.Contents.Values.Sum(), report.Seals);
        Assert.Equal(3, report.Contents["strip"]);
    }

    [Theory]
    [InlineData("UPDATE session_line SET bytes = x'00'", "session_line")]
    [InlineData(
        "UPDATE record_line SET bytes = x'52' WHERE record = 'strip' AND position = 1 AND read_number = 1 AND patch_position = 1 AND "
        + "revision_id = 1",
        "strip_line [1,1,1,1]")]
    [InlineData("UPDATE record_read SET red = '0.261' WHERE record = 'strip' AND red = '0.260' AND revision_id = 1", "strip_read [1,1,1]")]
    [InlineData("UPDATE record_read SET red = '0.26' WHERE record = 'strip' AND red = '0.260' AND revision_id = 1", "strip_read [1,1,1]")]
    [InlineData("UPDATE strip_revision SET note = NULL WHERE revision_id = 1", "strip_revision [1]")]
    [InlineData("UPDATE strip_aim SET reference = reference + 0.01", "strip_aim")]
    [InlineData("UPDATE lot SET expires = '2030-12-31' WHERE code = 'A1207'", "lot [\"A1207\"]")]
    [InlineData("UPDATE process_limit SET upper = 0.5 WHERE kind = 'control'", "process_limit")]
    [InlineData("UPDATE aim_adjustment_value SET value = 0 WHERE position = 1", "aim_adjustment_value")]
    [InlineData("UPDATE row_seal SET hash = zeroblob(32) WHERE sequence = 3", "is not as it was written")]
    public async Task Row_that_was_changed_is_named(string tampering, string named)
    {
        var report = await TamperAsync(tampering);

        Assert.Contains(report.Findings, f => f.Kind == StoreFindingKind.RowChanged && f.What.Contains(named, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("DELETE FROM session_line")]
    [InlineData("DELETE FROM session_line; DELETE FROM row_seal WHERE table_name = 'session_line'")]
    [InlineData("DELETE FROM strip_mean WHERE position = 1")]
    public async Task Row_that_was_taken_out_is_missed(string tampering) =>
        Assert.Contains((await TamperAsync(tampering)).Findings, f => f.Kind is StoreFindingKind.RowMissing);

    [Fact]
    public async Task Row_that_another_program_put_in_has_no_seal_until_it_is_sealed()
    {
        await Filled.FillAsync(Store, Token);
        RawFile.Tamper(
            Folder.Database,
            "INSERT INTO record_line SELECT record, revision_id, patch_position, read_number, 9, received_at, bytes, NULL, NULL "
            + "FROM record_line WHERE record = 'strip' LIMIT 1");
        var found = Assert.Single((await InspectAsync()).Findings);
        Assert.Equal(StoreFindingKind.NotSealed, found.Kind);
        Assert.Contains("1 row(s) of strip_line", found.What, StringComparison.Ordinal);

        Assert.Equal(1, await Store.SealAsync(Token));
        Assert.Equal(0, await Store.SealAsync(Token));
        Assert.True((await InspectAsync()).IsSound);
    }

    [Fact]
    public async Task Reference_to_nothing_and_trigger_that_is_gone_are_told()
    {
        await Filled.FillAsync(Store, Token);
        using (var other = new SqliteConnection($"Data Source={Folder.Database};Pooling=False;Foreign Keys=False"))
        {
            _ = other.Execute("DROP TRIGGER session_end_stays; DROP TRIGGER bench_session_stays; DELETE FROM bench_session");
        }

        var findings = (await InspectAsync()).Findings;

        Assert.Contains(findings, f => f.Kind == StoreFindingKind.BrokenReference
            && f.What.Contains("session_line refer to rows of bench_session", StringComparison.Ordinal));
        Assert.Contains(
            findings,
            f => f.Kind == StoreFindingKind.SchemaChanged && f.What.Contains("trigger session_end_stays", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Inspection_while_the_store_is_written_to_sees_one_moment()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        var writing = Task.Run(
            async () =>
            {
                for (var i = 0; i < 40; i++)
                {
                    await Store.AddStripAsync(Some.Strip(), Token);
                }
            },
            Token);
        do
        {
            var report = await InspectAsync();
            Assert.True(report.IsSound, Words(report));
        }
        while (!writing.IsCompleted);
        await writing;
    }

    private static string Words(StoreReport report) => string.Join('\n', report.Findings);

    private Task<StoreReport> InspectAsync() => StoreInspection.InspectAsync(Folder.Database, Time, Token);

    private async Task<StoreReport> TamperAsync(string sql)
    {
        await Filled.FillAsync(Store, Token);
        RawFile.Tamper(Folder.Database, sql);
        return await InspectAsync();
    }
}
