using Acquire.Storage.Inspection;
using Acquire.Storage.Migrations;
using Acquire.Storage.Rows;
using Dapper;
using Microsoft.Data.Sqlite;
using Microsoft.Extensions.Time.Testing;

namespace Acquire.Storage.Tests.Migrations;

/// <summary>
/// A file of every version there was, with rows in its tables, is brought to this one: nothing in it changes, and a backup is left.
/// </summary>
[Trait("speed", "slow")]
public sealed class EveryVersionTests : IDisposable
{
    private const string Hash = "0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef";
    private const string At = "2026-03-12T18:30:00.0000000+00:00";

    /// <summary>Rows as the programs of those versions wrote them, by the version that brought their table.</summary>
    private static readonly (int Version, string Sql)[] Rows =
    [
        (1, $"INSERT INTO lot (code, process_key, layout_name, expires, added_at) VALUES ('A1', 'c41', 'two', '2026-12-31', '{At}')"),
        (1, "INSERT INTO lot_patch VALUES ('A1', 1, 'dmin', 'D-min'), ('A1', 2, 'ld', 'LD')"),
        (1, "INSERT INTO lot_correction VALUES ('A1', 1, 'ld', 'red', 0.02)"),
        (1, $"""
            INSERT INTO bench_session (id, kind, lot_code, reads_per_patch, read_at, read_by, profile, profile_hash, port)
            VALUES ('01957c2f-0000-7000-8000-000000000001', 'strip', 'A1', 2, '{At}', 'staff', 'labelled-line', 'h', 'p')
            """),
        (1, $"INSERT INTO session_line VALUES ('01957c2f-0000-7000-8000-000000000001', 1, '{At}', x'522030', 'reading')"),
        (1, $"INSERT INTO session_end VALUES ('01957c2f-0000-7000-8000-000000000001', 'completed', '{At}', 'done')"),
        (2, "INSERT INTO lot_reference (id) VALUES ('01957c2f-0000-7000-8000-000000000002')"),
        (2, $"""
            INSERT INTO lot_reference_revision (reference_id, revision, revised_by, revised_at, revision_reason, added_at, lot_code, read_at, read_by)
            VALUES ('01957c2f-0000-7000-8000-000000000002', 1, 'staff', '{At}', 'read', '{At}', 'A1', '{At}', 'staff')
            """),
        (2, "INSERT INTO lot_reference_patch (revision_id, position, key, name) VALUES (1, 1, 'dmin', 'D-min'), (1, 2, 'ld', 'LD')"),
        (2, $"INSERT INTO lot_reference_read (revision_id, patch_position, read_number, red, read_at) VALUES (1, 1, 1, '0.260', "
            + $"'{At}'), (1, 2, 1, '0.46', '{At}')"),
        (3, $$"""
            INSERT INTO process_snapshot (hash, key, name, status, sheet) VALUES ('{{Hash}}', 'c41', 'C-41', 'm',
                '{"key":"c41","name":"C-41","status":"m","layout":{"name":"two","patches":[{"key":"dmin","name":"D-min"},{"key":"ld","name":"LD"}]},"parameters":[
                {"kind":"patch","key":"ld","name":"LD","stands_for":"speed","patch":"ld","channels":["red","green"],"channel_limits":[
                {"channel":"red","action":{"lower":-0.1,"upper":0.1,"source":"sheet in the box"} }]}]}')
            """),
        (3, "INSERT INTO strip (id) VALUES ('01957c2f-0000-7000-8000-000000000003')"),
        (3, $"""
            INSERT INTO strip_revision (strip_id, revision, revised_by, revised_at, revision_reason, added_at, lot_code, layout_name, process_hash,
                reference_id, line, session_id, read_at, read_by, profile, profile_hash, port)
            VALUES ('01957c2f-0000-7000-8000-000000000003', 1, 'staff', '{At}', 'read', '{At}', 'A1', 'two', '{Hash}',
                '01957c2f-0000-7000-8000-000000000002', 'dip tank', '01957c2f-0000-7000-8000-000000000001', '{At}', 'staff', 'labelled-line', 'h', 'p')
            """),
        (3, "INSERT INTO strip_patch (revision_id, position, key, name) VALUES (1, 1, 'dmin', 'D-min'), (1, 2, 'ld', 'LD')"),
        (3, $"INSERT INTO strip_read (revision_id, patch_position, read_number, red, read_at) VALUES (1, 1, 1, '0.27', '{At}'), (1, 2, "
            + $"1, '0.470', '{At}')"),
        (3, $"INSERT INTO strip_line VALUES (1, 1, 1, 1, '{At}', x'522030', '01957c2f-0000-7000-8000-000000000001', 1)"),
        (3, "INSERT INTO strip_mean VALUES (1, 1, 'dmin', 'red', 0.27, 1, NULL, 0.01), (1, 2, 'ld', 'red', 0.47, 1, NULL, 0.001)"),
        (3, "INSERT INTO strip_aim (revision_id, position, patch_key, channel, reference, correction, standard_uncertainty) VALUES (1, "
            + "1, 'ld', 'red', 0.46, 0.02, 0.003)"),
        (5, $"INSERT INTO plaque (name, tolerance, due_days, added_at) VALUES ('bench', 0.02, 30, '{At}')"),
        (5, "INSERT INTO plaque_patch (plaque_name, position, key, name, red, uncertainty) VALUES ('bench', 1, 'low', 'low', '0.05', "
            + "0.01), ('bench', 2, 'high', 'high', '2.95', 0.01)"),
        (6, $"""
            INSERT INTO calibration_check (id, plaque_name, passed, due_at, read_at, read_by, added_at)
            VALUES ('01957c2f-0000-7000-8000-000000000004', 'bench', 1, '{At}', '{At}', 'staff', '{At}')
            """),
        (6, "INSERT INTO calibration_check_patch (revision_id, position, key, name) VALUES (1, 1, 'low', 'low'), (1, 2, 'high', 'high')"),
        (6, $"INSERT INTO calibration_check_read (revision_id, patch_position, read_number, red, read_at) VALUES (1, 1, 1, '0.05', "
            + $"'{At}'), (1, 2, 1, '2.95', '{At}')"),
        (15, $"""
            INSERT INTO process_channel_limit (process_hash, position, parameter_key, parameter_name, channel, kind, lower, upper, source)
            VALUES ('{Hash}', 1, 'ld', 'LD', 'red', 'action', -0.1, 0.1, 'sheet in the box'), ('{Hash}', 1, 'ld', 'LD', 'red', 'control', NULL, NULL, NULL)
            """),
    ];

    /// <summary>Until then each kind of record had tables of its own for its reads, and the rows here are theirs.</summary>
    private const int LastWithReadsApart = 18;

    private readonly TempFolder _folder = new();
    private readonly FakeTimeProvider _time = new(Some.Evening);

    public static IEnumerable<TheoryDataRow<int>> Versions =>
        Scripts.All.Take(Scripts.All.Length - 1).Select(s => new TheoryDataRow<int>(UserVersionJournal.VersionOf(s)));

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public void Dispose() => _folder.Dispose();

    [Theory]
    [MemberData(nameof(Versions))]
    public async Task Migrate_from_any_version_keeps_every_value_leaves_a_backup_and_is_sound(int version)
    {
        var filled = Math.Min(version, LastWithReadsApart);
        await OpenAsync(filled);
        Fill(filled);
        await OpenAsync(version);
        var before = Values(_folder.Database);

        await using (var store = await AcquireStore.OpenAsync(_folder.Path, _time, Token))
        {
            var strips = await store.ListStripsAsync(Acquire.Storage.Records.StripFilter.All, Token).ToListAsync(Token);
            Assert.Equal(version >= 3 ? 1 : 0, strips.Count);
            Assert.All(strips, s => Assert.Equal(
                new Limit(-0.1, 0.1, "sheet in the box"), s.JudgedBy.Get("ld").LimitsIn(Channel.Red).Action));
            Assert.Equal(version >= 2, await store.CurrentReferenceAsync("a1", Token) is not null);
            var instrument = Assert.Single(await store.ListInstrumentsAsync(Token));
            Assert.Equal(("labelled-line", "labelled-line", "p"), (instrument.Name, instrument.Profile, instrument.Port));
            Assert.All(strips, s => Assert.Equal("labelled-line", s.Provenance.Instrument!.Name));
        }

        var after = Values(_folder.Database);
        Assert.Equal(
            version >= 3 ? ["ld red action -0.1 0.1 sheet in the box", "ld red control"] : [],
            ChannelLimits());
        Assert.All(before, value => Assert.Contains(value, after));
        var backup = Assert.Single(Directory.EnumerateFiles(_folder.Path, $"acquire-before-upgrade-from-{version}-*.db"));
        Assert.Equal(before, Values(backup));
        var report = await StoreInspection.InspectAsync(_folder.Database, _time, Token);
        Assert.True(report.IsSound, string.Join('\n', report.Findings));
        Assert.Equal(report.Contents.Values.Sum(), report.Seals);
        Assert.True((await StoreInspection.InspectAsync(backup, _time, Token)).IsSound);
    }

    private async Task OpenAsync(int version) => await (await AcquireStore.OpenAsync(
        _folder.Path, _time, [.. Scripts.All.Where(s => UserVersionJournal.VersionOf(s) <= version)], 1, Token)).DisposeAsync();

    private List<string> ChannelLimits()
    {
        using var connection = new SqliteConnection($"Data Source={_folder.Database};Mode=ReadOnly;Pooling=False");
        connection.Open();
        return connection.Query<string>(
            "SELECT concat_ws(' ', parameter_key, channel, kind, lower, upper, source) FROM process_channel_limit").AsList();
    }

    private void Fill(int version)
    {
        using var connection = new SqliteConnection($"Data Source={_folder.Database};Pooling=False");
        connection.Open();
        RowSeals.Attach(connection); // As the programs did from the version that brought seals.
        foreach (var (_, sql) in Rows.Where(r => r.Version <= version))
        {
            _ = connection.Execute(sql);
        }
    }

    /// <summary>Each value with its table, its row's place and its column: a later version may add columns, and tables.</summary>
    private static HashSet<string> Values(string file)
    {
        using var connection = new SqliteConnection($"Data Source={file};Mode=ReadOnly;Pooling=False");
        connection.Open();
        var tables = SealedTable.In(new Db(connection, null)) is { Count: > 0 } known
            ? known.Select(t => (t.Name, t.Rows))
            : connection.Query<string>("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%'")
                .Select(t => (Name: t, Rows: t));
        return
        [
            .. from table in tables
               from row in connection.Query($"SELECT * FROM {table.Rows}").Cast<IDictionary<string, object?>>().Index()
               from column in row.Item
               where column.Value is not null
               select $"{table.Name} {row.Index} {column.Key} {(column.Value is byte[] bytes ? Convert.ToHexString(bytes) : column.Value)}",
        ];
    }
}
