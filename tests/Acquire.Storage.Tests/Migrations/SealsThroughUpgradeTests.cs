using Acquire.Storage.Inspection;
using Acquire.Storage.Migrations;
using Dapper;
using DbUp.Engine;
using Microsoft.Data.Sqlite;
using Microsoft.Extensions.Time.Testing;

namespace Acquire.Storage.Tests.Migrations;

/// <summary>
/// An upgrade moves the reads of every kind of record into one family of tables, and their seals hold as they are: what was changed before
/// is told afterwards, and nothing is sealed that this program did not write.
/// </summary>
public sealed class SealsThroughUpgradeTests : IDisposable
{
    private const string At = "2026-03-12T18:30:00.0000000+00:00";

    private readonly TempFolder _folder = new();
    private readonly FakeTimeProvider _time = new(Some.Evening);

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public void Dispose() => _folder.Dispose();

    [Fact]
    public async Task Seals_of_reads_stay_as_they_were_written()
    {
        await OldAsync();
        var before = Seals();

        await using var store = await AcquireStore.OpenAsync(_folder.Path, _time, Token);

        Assert.NotNull(await store.CurrentReferenceAsync("A1", Token));
        Assert.Contains(before, s => s.StartsWith("lot_reference_read [1,2,1] ", StringComparison.Ordinal));
        Assert.Equal(before, Seals());
        var report = await InspectAsync();
        Assert.True(report.IsSound, string.Join('\n', report.Findings));
        Assert.Equal((3, 3), (report.Contents["lot_reference_read"], report.Contents["lot_reference_patch"]));
    }

    [Theory]
    [InlineData(
        "UPDATE lot_reference_read SET red = '0.46' WHERE patch_position = 2", "lot_reference_read [1,2,1] is not as it was written")]
    [InlineData("UPDATE lot_reference_patch SET name = 'HD' WHERE position = 2", "lot_reference_patch [1,2] is not as it was written")]
    [InlineData("DELETE FROM lot_reference_read WHERE patch_position = 3", "lot_reference_read [1,3,1] was written and is gone")]
    [InlineData("DELETE FROM lot_reference_patch WHERE position = 3", "lot_reference_patch [1,3] was written and is gone")]
    [InlineData(
        "INSERT INTO lot_reference_read (revision_id, patch_position, read_number, red, read_at) SELECT 1, 1, 2, red, read_at FROM "
        + "lot_reference_read LIMIT 1",
        "1 row(s) of lot_reference_read have no seal, such as lot_reference_read [1,1,2]")]
    [InlineData("INSERT INTO lot_patch VALUES ('A1', 3, 'hd', 'HD')", "1 row(s) of lot_patch have no seal, such as lot_patch [\"A1\",3]")]
    public async Task What_was_changed_before_an_upgrade_is_told_after_it(string tampering, string told)
    {
        await OldAsync();
        using (var connection = new SqliteConnection($"Data Source={_folder.Database};Pooling=False;Foreign Keys=False"))
        {
            connection.Open();
            foreach (var trigger in connection.Query<string>("SELECT name FROM sqlite_schema WHERE type = 'trigger'").AsList())
            {
                _ = connection.Execute($"DROP TRIGGER {trigger}");
            }

            Assert.Equal(1, connection.Execute(tampering));
        }

        await (await AcquireStore.OpenAsync(_folder.Path, _time, Token)).DisposeAsync();

        Assert.Contains((await InspectAsync()).Findings, f => f.What.Contains(told, StringComparison.Ordinal));
    }

    /// <summary>A store of the version before the move, with a reference reading that is sealed.</summary>
    private async Task OldAsync()
    {
        SqlScript[] before = [.. Scripts.All.TakeWhile(s => UserVersionJournal.VersionOf(s) < 19)];
        await using var old = await AcquireStore.OpenAsync(_folder.Path, _time, [.. before], 1, Token);
        _ = await old.WriteAsync(
            db => db.Execute(
                $"""
                INSERT INTO lot (code, process_key, layout_name, added_at) VALUES ('A1', 'c41', 'two', '{At}');
                INSERT INTO lot_patch VALUES ('A1', 1, 'dmin', 'D-min'), ('A1', 2, 'ld', 'LD');
                INSERT INTO lot_reference (id) VALUES ('01957c2f-0000-7000-8000-000000000002');
                INSERT INTO lot_reference_revision
                    (reference_id, revision, revised_by, revised_at, revision_reason, added_at, lot_code, read_at, read_by)
                VALUES ('01957c2f-0000-7000-8000-000000000002', 1, 'staff', '{At}', 'read', '{At}', 'A1', '{At}', 'staff');
                INSERT INTO lot_reference_patch (revision_id, position, key, name)
                VALUES (1, 1, 'dmin', 'D-min'), (1, 2, 'ld', 'LD'), (1, 3, 'hd', 'HD');
                INSERT INTO lot_reference_read (revision_id, patch_position, read_number, red, read_at)
                VALUES (1, 1, 1, '0.260', '{At}'), (1, 2, 1, '0.47', '{At}'), (1, 3, 1, '1.26', '{At}');
                """),
            Token);
    }

    private List<string> Seals()
    {
        using var connection = new SqliteConnection($"Data Source={_folder.Database};Mode=ReadOnly;Pooling=False");
        return connection.Query<string>("SELECT table_name || ' ' || row_key || ' ' || hex(hash) FROM row_seal ORDER BY sequence").AsList();
    }

    private Task<StoreReport> InspectAsync() => StoreInspection.InspectAsync(_folder.Database, _time, Token);
}
