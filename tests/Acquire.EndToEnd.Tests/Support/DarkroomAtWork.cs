using System.Text.Json;

namespace Acquire.EndToEnd.Tests.Support;

/// <summary>A darkroom with a lot, a line, and instruments on ports: what a service is tried in.</summary>
internal sealed class DarkroomAtWork : IAsyncDisposable
{
    private DarkroomAtWork(Darkroom darkroom, Ports ports) => (Darkroom, Ports) = (darkroom, ports);

    /// <summary>A strip that lies near its lot's aims, one read a patch.</summary>
    public static string[] Strip { get; } =
        ["R 0.26 G 0.62 B 0.81", "R 0.46 G 0.85 B 1.05", "R 1.27 G 1.75 B 2.01", "R 2.13 G 2.59 B 2.93", "R 0.37 G 0.88 B 2.73"];

    public Darkroom Darkroom { get; }

    public Ports Ports { get; }

    /// <summary>Instruments are plugged in and added; none of them is read yet.</summary>
    public static async Task<DarkroomAtWork> EquipAsync(params IEnumerable<string> instruments)
    {
        var darkroom = new Darkroom();
        var ports = Ports.In(darkroom.Folder);
        await darkroom.AddLotAsync();
        await darkroom.DoAsync("line", "add", "dip tank", "--process", "c41", "--kind", "dip-tank");
        foreach (var name in instruments)
        {
            await darkroom.DoAsync("instrument", "add", name, "--port", await ports.PlugAsync(name), "--profile", "labelled-line");
        }

        return new DarkroomAtWork(darkroom, ports);
    }

    /// <summary>Asks the store with a reader that is not ours, Python's sqlite3 module; one line for a row.</summary>
    public async Task<List<JsonElement>> QueryAsync(string sql)
    {
        const string Script = """
            import json, sqlite3, sys
            store = sqlite3.connect(sys.argv[1])
            assert store.execute("pragma integrity_check").fetchone() == ("ok",)
            for row in store.execute(sys.argv[2]):
                print(json.dumps([v.decode("latin-1") if isinstance(v, bytes) else v for v in row]))
            """;
        await using var python = RunningProgram.Start("python3", ["-c", Script, Path.Combine(Darkroom.Data, "acquire.db"), sql]);
        Assert.True(await python.ExitAsync() == 0, python.Error);
        return [.. python.Out.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(l => JsonDocument.Parse(l).RootElement)];
    }

    /// <summary>Locks the store as another program would, for so many seconds.</summary>
    public async Task<RunningProgram> LockStoreAsync(int seconds)
    {
        const string Script = """
            import sqlite3, sys, time
            store = sqlite3.connect(sys.argv[1], isolation_level=None)
            store.execute("begin immediate")
            print("locked", flush=True)
            time.sleep(float(sys.argv[2]))
            store.execute("rollback")
            """;
        var python = RunningProgram.Start(
            "python3",
            ["-c", Script, Path.Combine(Darkroom.Data, "acquire.db"), seconds.ToString(CultureInfo.InvariantCulture)]);
        await python.UntilAsync(() => python.Out.Contains("locked", StringComparison.Ordinal), "the lock");
        return python;
    }

    public async ValueTask DisposeAsync()
    {
        await Ports.DisposeAsync();
        Darkroom.Dispose();
    }
}
