using Acquire.Storage.Migrations;

namespace Acquire.Storage.Tests.Trust;

public sealed class InstrumentTests : StoreFixture
{
    [Fact]
    public async Task Added_instrument_comes_back_whole_whatever_the_case()
    {
        await Store.AddInstrumentAsync(Some.Bench, Token);

        Deep.Equal(Some.Bench, Assert.Single(await Store.InstrumentRevisionsAsync("BENCH", Token)));
        Deep.Equal(Some.Bench, Assert.Single(await Store.ListInstrumentsAsync(Token)));
    }

    [Fact]
    public async Task Instrument_of_which_little_is_said_comes_back_so()
    {
        var plain = new Instrument("spare", "two-channels", Some.Bench.Revision);
        await Store.AddInstrumentAsync(plain, Token);

        Deep.Equal(plain, Assert.Single(await Store.ListInstrumentsAsync(Token)));
    }

    [Fact]
    public async Task Change_is_a_revision_and_the_newest_is_in_force()
    {
        var moved = Some.Bench with { Port = "tcp:desk:4001", Revision = Some.Bench.Revision.Next("tutor", Some.Evening, "moved") };
        await Store.AddInstrumentAsync(Some.Bench, Token);
        await Store.AddInstrumentAsync(moved, Token);

        Assert.Equal([1, 2], (await Store.InstrumentRevisionsAsync("bench", Token)).Select(i => i.Revision.Number));
        Assert.Equal("tcp:desk:4001", Assert.Single(await Store.ListInstrumentsAsync(Token)).Port);
    }

    [Fact]
    public async Task Second_instrument_of_a_name_and_a_change_of_an_old_revision_are_refused()
    {
        await Store.AddInstrumentAsync(Some.Bench, Token);
        var shouted = new Instrument("BENCH", "labelled-line", Some.Bench.Revision);
        var late = Some.Bench with { Revision = Some.Bench.Revision.Next("tutor", Some.Evening, "one").Next("tutor", Some.Evening, "two") };

        Assert.Equal(
            StoreFault.Duplicate, (await Assert.ThrowsAsync<StoreException>(() => Store.AddInstrumentAsync(shouted, Token))).Fault);
        Assert.Equal(StoreFault.Conflict, (await Assert.ThrowsAsync<StoreException>(() => Store.AddInstrumentAsync(late, Token))).Fault);
    }

    /// <summary>Two instruments of one family share a profile and nothing else.</summary>
    [Fact]
    public async Task Last_check_is_that_of_the_instrument_not_of_its_profile()
    {
        await Store.AddPlaqueAsync(Some.Plaque, Token);
        var check = Some.Check();
        await Store.AddCheckAsync(check, Token);

        Assert.Equal(check.Id, (await Store.LastCheckAsync("Bench", Some.Evening.AddDays(1), Token))?.Id);
        Assert.Null(await Store.LastCheckAsync("labelled-channels", Some.Evening.AddDays(1), Token));
    }

    /// <summary>
    /// Profiles of every table count, each once whatever the case; a port where a session was is better than one in a record.
    /// </summary>
    [Fact]
    public async Task Upgrade_makes_one_instrument_of_each_profile_and_writes_no_name_into_old_rows()
    {
        using var old = new TempFolder();
        await (await AcquireStore.OpenAsync(old.Path, Time, [.. Scripts.All.Where(s => UserVersionJournal.VersionOf(s) < 21)], 1, Token))
            .DisposeAsync();
        using (var connection = new Microsoft.Data.Sqlite.SqliteConnection($"Data Source={old.Database};Pooling=False"))
        {
            connection.Open();
            foreach (var sql in Rows)
            {
                _ = Dapper.SqlMapper.Execute(connection, sql);
            }
        }

        await using var store = await AcquireStore.OpenAsync(old.Path, Time, Token);

        Assert.Equal(
            ["A first /dev/ttyUSB1", "b first /dev/ttyS0", "c first "],
            (await store.ListInstrumentsAsync(Token)).Select(i => $"{i.Name} first {i.Port}"));
        Assert.All(await store.ListInstrumentsAsync(Token), i => Assert.Equal((1, "acquire"), (i.Revision.Number, i.Revision.By)));
        Assert.Equal(
            new DateTimeOffset(2026, 3, 1, 9, 0, 0, TimeSpan.Zero), (await store.InstrumentRevisionsAsync("a", Token))[0].Revision.At);
    }

    private static string[] Rows =>
    [
        Lot, Session(1, "a", "/dev/ttyUSB0", 2), Session(2, "A", "/dev/ttyUSB1", 3), Recheck(3, "A", "/dev/ttyUSB9", 9),
        Recheck(4, "A", "x", 1),
        Recheck(5, "b", "/dev/ttyS0", 4), Recheck(6, "b", "file:reads.csv", 5), Recheck(7, "c", "file:reads.csv", 6),
    ];

    private const string Lot =
        "INSERT INTO lot (code, process_key, layout_name, added_at) VALUES ('A1', 'c41', 'two', '2026-03-01T09:00:00.0000000+00:00')";

    private static string Session(int id, string profile, string port, int day) =>
        "INSERT INTO bench_session (id, kind, reads_per_patch, read_at, read_by, profile, profile_hash, port) VALUES "
        + $"('{Id(id)}', 'repeatability', 2, '2026-03-0{day}T09:00:00.0000000+00:00', 'staff', '{profile}', 'h', '{port}')";

    private static string Recheck(int id, string profile, string port, int day) =>
        "INSERT INTO reference_recheck (id, lot_code, read_at, read_by, profile, profile_hash, port, added_at) VALUES "
        + $"('{Id(id)}', 'A1', '2026-03-0{day}T09:00:00.0000000+00:00', 'staff', '{profile}', 'h', '{port}', "
        + "'2026-03-09T09:00:00.0000000+00:00')";

    private static string Id(int number) => $"01957c2f-0000-7000-8000-00000000000{number}";
}
