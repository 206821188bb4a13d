using System.Text.RegularExpressions;
using Acquire.Storage.Migrations;
using Dapper;
using DbUp.Engine;
using Microsoft.Data.Sqlite;
using Microsoft.Extensions.Time.Testing;

namespace Acquire.Storage.Tests.Migrations;

public sealed class MigratorTests : IDisposable
{
    private readonly TempFolder _folder = new();
    private readonly FakeTimeProvider _time = new(Some.Evening);

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    private string[] Backups => [.. Directory.EnumerateFiles(_folder.Path, "acquire-before-upgrade-*").Order(StringComparer.Ordinal)];

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void Scripts_count_up_from_1_and_no_number_stands_twice()
    {
        var versions = Scripts.All.Select(UserVersionJournal.VersionOf).ToList();

        Assert.Equal(1, versions[0]);
        Assert.Equal(versions.Distinct().Order(), versions);
    }

    [Fact]
    public async Task Migrate_earlier_file_keeps_its_content_and_a_backup()
    {
        await using (var old = await OpenAsync([.. Scripts.All.Take(1)]))
        {
            await old.AddLotAsync(Some.Lot, Token);
        }

        await using var store = await OpenAsync([.. Scripts.All]);

        Deep.Equal(Some.Lot, await store.FindLotAsync(Some.Lot.Code, Token));
        await store.AddStripAsync(Some.Strip(), Token);
        var backup = Assert.Single(Backups);
        Assert.EndsWith("acquire-before-upgrade-from-1-20260312T183000Z.db", backup, StringComparison.Ordinal);
        Assert.Equal(1, Version(backup));
    }

    /// <summary>The table of sessions is made anew on the way; what refers to it must refer to it still.</summary>
    [Fact]
    public async Task Migrate_file_with_sessions_and_strips_keeps_them_and_their_ties()
    {
        var session = Some.Session();
        var (reference, strip) = (Some.Reference(), Some.Strip() with { SessionId = session.Id });
        await using (var filled = await OpenAsync([.. Scripts.All]))
        {
            await filled.AddLotAsync(Some.Lot, Token);
            await filled.BeginSessionAsync(session, Token);
            await filled.AppendAsync(session.Id, [], [Some.Line(1)], Token);
            await filled.EndSessionAsync(session.Id, new(Domain.Sessions.SessionOutcome.Completed, Some.Evening, "done"), Token);
            await filled.AddReferenceAsync(reference, Token);
            await filled.AddStripAsync(strip, Token);
        }

        Downgrade();
        await using var store = await OpenAsync([.. Scripts.All]);

        Assert.Equal(Nameless(session), Deep.Text(Assert.Single(await store.ListSessionsAsync(Token)).Session));
        Assert.Single(await store.SessionLinesAsync(session.Id, Token));
        Assert.Equal(Nameless(strip), Deep.Text(await store.FindStripAsync(strip.Id.ToString(), Token)));
        Assert.Equal(Nameless(reference), Deep.Text(await store.CurrentReferenceAsync(Some.Lot.Code, Token)));
        Assert.Empty(await store.WriteAsync(db => db.Query<object>("PRAGMA foreign_key_check"), Token));
        var refused = await Assert.ThrowsAsync<StoreException>(
            () => store.WriteAsync(
                db => db.Execute("INSERT INTO session_line SELECT 'x', 1, received_at, bytes, meaning FROM session_line"), Token));
        Assert.Equal(StoreFault.Refused, refused.Fault);
    }

    [Fact]
    public async Task Migrate_new_file_makes_no_backup()
    {
        await (await OpenAsync([.. Scripts.All])).DisposeAsync();
        await (await OpenAsync([.. Scripts.All])).DisposeAsync();

        Assert.Empty(Backups);
    }

    [Fact]
    public async Task Migrate_script_that_fails_changes_nothing_and_names_script_and_backup()
    {
        await (await OpenAsync([.. Scripts.All.Take(1)])).DisposeAsync();
        SqlScript bad = new("0002_bad.sql", "CREATE TABLE half (a); INSERT INTO nowhere VALUES (1);");

        var error = await Assert.ThrowsAsync<StoreException>(() => OpenAsync([Scripts.All[0], bad]));

        Assert.Equal(StoreFault.MigrationFailed, error.Fault);
        Assert.Contains("0002_bad.sql", error.Message, StringComparison.Ordinal);
        Assert.Contains(Assert.Single(Backups), error.Message, StringComparison.Ordinal);
        Assert.Equal(1, Version(_folder.Database));
        using var connection = new SqliteConnection($"Data Source={_folder.Database};Pooling=False");
        Assert.Equal(0, connection.ExecuteScalar<long>("SELECT count(*) FROM sqlite_schema WHERE name = 'half'"));
    }

    /// <summary>A kill behind any script, or before the seals, leaves what a fault there leaves: the file as it was.</summary>
    [Fact]
    public async Task Migrate_that_is_cut_off_behind_the_last_script_leaves_the_version_that_was_and_the_next_open_seals_all()
    {
        await (await OpenAsync([.. Scripts.All.Take(10)])).DisposeAsync();
        using (var connection = new SqliteConnection($"Data Source={_folder.Database};Pooling=False"))
        {
            connection.Open();
            _ = connection.Execute("INSERT INTO lot (code, process_key, layout_name, added_at) VALUES ('A1', 'c41', 'two', "
                + "'2026-03-12T18:30:00.0000000+00:00'); INSERT INTO lot_patch VALUES ('A1', 1, 'ld', 'LD')");
        }

        _ = await Assert.ThrowsAsync<StoreException>(
            () => OpenAsync([.. Scripts.All, new("9999_cut.sql", "INSERT INTO nowhere VALUES (1);")]));
        Assert.Equal(10, Version(_folder.Database));

        await (await OpenAsync([.. Scripts.All])).DisposeAsync();
        var report =
            await Acquire.Storage.Inspection.StoreInspection.InspectAsync(_folder.Database, _time, TestContext.Current.CancellationToken);
        Assert.True(report.IsSound, string.Join('\n', report.Findings));
    }

    private Task<AcquireStore> OpenAsync(SqlScript[] scripts) => AcquireStore.OpenAsync(_folder.Path, _time, [.. scripts], 1, Token);

    /// <summary>Takes the file back to version 4: its rows as they are, the later tables and columns gone.</summary>
    private void Downgrade()
    {
        using var connection = new SqliteConnection($"Data Source={_folder.Database};Pooling=False;Foreign Keys=False");
        var sessions = Scripts.All[0].Contents;
        var from = sessions.IndexOf("CREATE TABLE bench_session", StringComparison.Ordinal);
        var table = sessions[from..sessions.IndexOf("CREATE TABLE session_line", StringComparison.Ordinal)];
        var limits = Scripts.All[3].Contents;
        var view = limits[limits.IndexOf("CREATE VIEW strip_limit", StringComparison.Ordinal)..];
        connection.Open();
        _ = connection.Execute(
            $"""
            DROP TABLE service_session; DROP TABLE loose_taken; DROP TABLE listening_entry; DROP TABLE listening;
            DROP VIEW current_instrument; DROP TABLE instrument_revision;
            ALTER TABLE lot_reference_revision DROP COLUMN instrument_name; ALTER TABLE strip_revision DROP COLUMN instrument_name;
            DROP VIEW strip_density; DROP VIEW lot_reference_density; DROP VIEW record_density;
            {string.Concat(Reads("lot_reference", 1).Concat(Reads("strip", 2)))}
            DROP TABLE lot_reference_origin; DROP TABLE record_line; DROP TABLE record_read; DROP TABLE record_patch;
            {limits[limits.IndexOf("CREATE VIEW strip_density", StringComparison.Ordinal)..limits.IndexOf("CREATE VIEW strip_limit", StringComparison.Ordinal)]}
            DROP VIEW strip_limit; DROP TABLE process_channel_limit;
            {view[..(view.IndexOf(';', StringComparison.Ordinal) + 1)]}
            DROP VIEW bottle_use; DROP VIEW standing_entry;
            DROP TABLE withdrawal; DROP TABLE book_event; DROP TABLE stock_move; DROP TABLE film_use_bottle; DROP TABLE film_use_film; DROP TABLE film_use;
            DROP TABLE bottle_event; DROP TABLE bottle; DROP TABLE solution; DROP TABLE line_method; DROP TABLE process_line; DROP TABLE book_entry;
            DROP TABLE row_seal;
            DROP TABLE aim_adjustment_pair; DROP TABLE aim_adjustment_value; DROP TABLE aim_adjustment; DROP TABLE lot_reference_strip;
            DROP TABLE strip_question;
            ALTER TABLE strip_aim DROP COLUMN adjustment;
            ALTER TABLE strip_revision DROP COLUMN handling;
            ALTER TABLE strip_revision DROP COLUMN paired_with;
            ALTER TABLE strip_revision DROP COLUMN treatment;
            ALTER TABLE strip_revision DROP COLUMN reread_of;
            ALTER TABLE strip_revision DROP COLUMN confirms;
            DROP TRIGGER strip_once_per_session; DROP INDEX strip_revision_session;
            DROP TRIGGER lot_reference_once_per_session; DROP INDEX lot_reference_revision_session;
            DROP TABLE session_plan_patch; DROP TABLE session_plan; DROP TABLE profile_text; DROP TABLE session_entry;
            DROP TABLE strip_import;
            DROP TABLE strip_repeatability;
            ALTER TABLE strip_revision DROP COLUMN repeatability_id;
            ALTER TABLE strip_revision DROP COLUMN check_lacking;
            ALTER TABLE strip_revision DROP COLUMN check_id;
            CREATE TEMP TABLE kept AS SELECT * FROM bench_session;
            DROP TABLE bench_session;
            {table}
            INSERT INTO bench_session SELECT id, kind, lot_code, reads_per_patch, read_at, read_by, profile, profile_hash, port FROM kept;
            DROP TABLE repeatability_test; DROP TABLE calibration_check; DROP TABLE reference_recheck;
            DROP TABLE plaque_patch; DROP TABLE plaque;
            PRAGMA user_version = 4;
            """);
    }

    /// <summary>The tables of reads that a kind of record had of its own, as their script makes them, with its reads in them.</summary>
    private static IEnumerable<string> Reads(string of, int script) =>
        from part in new[] { "patch", "read", "line" }
        let made = Scripts.All[script].Contents
        let start = made.IndexOf($"CREATE TABLE {of}_{part} ", StringComparison.Ordinal)
        let table = made[start..(made.IndexOf(';', start) + 1)]
        let columns = string.Join(", ", Regex.Matches(table, @"^    ([a-z_]+) +[A-Z]+\b", RegexOptions.Multiline)
            .Select(m => m.Groups[1].Value))
        select $"{table} INSERT INTO {of}_{part} ({columns}) SELECT {columns} FROM record_{part} WHERE record = '{of}';\n"
            + string.Concat(Regex.Matches(made, $"^CREATE TRIGGER {of}_{part}_.*$", RegexOptions.Multiline).Select(m => m.Value));

    /// <summary>A record as it was before instruments had names: they went by those of their profiles.</summary>
    private static string Nameless(object record) =>
        Deep.Text(record).Replace($"\"{Some.Instrument.Name}\"", $"\"{Some.Instrument.Profile}\"", StringComparison.Ordinal);

    private static long Version(string file)
    {
        using var connection = new SqliteConnection($"Data Source={file};Mode=ReadOnly;Pooling=False");
        return connection.ExecuteScalar<long>("PRAGMA user_version");
    }
}
