using Microsoft.Data.Sqlite;

namespace Acquire.Tests.StripWork;

/// <summary>
/// A strip, what the books gain by it and the end of its session are kept together or not at all. The fault is put between the two by a
/// rule of the database that refuses the books' entry after the strip was written.
/// </summary>
[Trait("speed", "slow")]
public sealed class OneTransactionTests : IAsyncDisposable
{
    private readonly InMemory _program = new();
    private readonly TcpInstrument _instrument = new();

    public async ValueTask DisposeAsync()
    {
        await _instrument.DisposeAsync();
        _program.Dispose();
    }

    [Theory]
    [InlineData("film_use")]
    [InlineData("stock_move")]
    [InlineData("session_end")]
    public async Task Strip_whose_books_cannot_be_kept_is_not_kept_and_is_finished_by_resume(string refused)
    {
        await PrepareAsync();
        Rule($"CREATE TRIGGER fault BEFORE INSERT ON {refused} BEGIN SELECT RAISE(ABORT, 'the disk failed here'); END");
        _instrument.Lay();
        var (code, _, error) = await _program.RunAsync(["read", .. _instrument.Options, "--lot", "2417"]);

        Assert.NotEqual(0, code);
        Assert.Contains("acquire resume", error, StringComparison.Ordinal);
        Assert.Equal((0, 0, 1, 0), Counts());
        DiscardRescued(error);

        Rule("DROP TRIGGER fault");
        (code, _, error) = await _program.RunAsync("resume", "--no-bell");
        Assert.True(code == 0, error);
        Assert.Equal((1, 1, 2, 1), Counts());
        var bottle = await _program.JsonAsync("bottle", "show", "D7");
        Assert.True(bottle.GetProperty("state").GetProperty("areaM2").GetDouble() > 0);
        Assert.Equal(0, (await _program.RunAsync("verify")).Code);
    }

    private async Task PrepareAsync()
    {
        foreach (var command in new string[][]
        {
            ["lot", "add", "2417", "--process", "c41"],
            ["lot", "reference", "2417", .. TcpInstrument.ReferenceValues],
            ["lot", "stock", "2417", "add", "20"],
            ["line", "add", "dip tank", "--process", "c41"],
            ["solution", "mix", "dev1", "1L", "--process", "c41"],
            ["bottle", "fill", "D7"],
        })
        {
            var (code, _, error) = await _program.RunAsync(command);
            Assert.True(code == 0, error);
        }
    }

    private static void DiscardRescued(string error)
    {
        foreach (var path in error.Split(' ', ';')
            .Where(w => w.EndsWith(".txt", StringComparison.Ordinal) && w.Contains("acquire-rescued-", StringComparison.Ordinal)))
        {
            File.Delete(path);
        }
    }

    private (long Strips, long Uses, long Moves, long Ended) Counts() =>
        (Count("strip"), Count("film_use"), Count("stock_move"), Count("session_end"));

    private long Count(string table)
    {
        using var connection = Open();
        using var command = connection.CreateCommand();
        command.CommandText = $"SELECT count(*) FROM {table}";
        return (long)command.ExecuteScalar()!;
    }

    private void Rule(string sql)
    {
        using var connection = Open();
        using var command = connection.CreateCommand();
        command.CommandText = sql;
        _ = command.ExecuteNonQuery();
    }

    private SqliteConnection Open()
    {
        var connection = new SqliteConnection(
            new SqliteConnectionStringBuilder { DataSource = Path.Combine(_program.Folder, "acquire.db"), Pooling = false }.ToString());
        connection.Open();
        return connection;
    }
}
