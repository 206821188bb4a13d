using System.Diagnostics;
using System.IO.Ports;
using System.Text;
using Acquire.Instruments.Simulation;
using Microsoft.Data.Sqlite;

namespace Benchmarks.Live;

/// <summary>
/// The least that keeps a line: read it from the port, one durable commit, say so to the one who waits. No journal, no meaning, nobody
/// else.
/// </summary>
internal sealed class BareLoop : IAsyncDisposable
{
    private readonly PseudoTerminal _instrument;
    private readonly SerialPort _port;
    private readonly SqliteConnection _store;
    private TaskCompletionSource<long> _kept = New();
    private Task _running = Task.CompletedTask;

    private BareLoop(PseudoTerminal instrument, SerialPort port, SqliteConnection store) =>
        (_instrument, _port, _store) = (instrument, port, store);

    public static async Task<BareLoop> StartAsync(string file, CancellationToken cancellationToken)
    {
        var instrument = PseudoTerminal.Open(TimeProvider.System);
        var port = new SerialPort(instrument.SlavePath, 9600);
        port.Open();
        var store = new SqliteConnection(new SqliteConnectionStringBuilder { DataSource = file, Pooling = false }.ToString());
        await store.OpenAsync(cancellationToken);
        await using (var command = store.CreateCommand())
        {
            // As the store of the product sets it.
            command.CommandText =
                "PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; CREATE TABLE line (id INTEGER PRIMARY KEY, at TEXT, bytes BLOB)";
            await command.ExecuteNonQueryAsync(cancellationToken);
        }

        await instrument.WaitForListenerAsync(cancellationToken);
        var loop = new BareLoop(instrument, port, store);
        loop._running = Task.Run(loop.RunAsync, CancellationToken.None);
        return loop;
    }

    /// <summary>From when the line's last byte was written until it is kept and told.</summary>
    public async Task<TimeSpan> SendAsync(string line, CancellationToken cancellationToken)
    {
        _kept = New();
        var bytes = Encoding.ASCII.GetBytes(line);
        var began = Stopwatch.GetTimestamp();
        await _instrument.WriteAsync(bytes, cancellationToken);
        return Stopwatch.GetElapsedTime(began, await _kept.Task.WaitAsync(cancellationToken));
    }

    public async ValueTask DisposeAsync()
    {
        _port.Dispose();
        await _running.ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        await _store.DisposeAsync();
        await _instrument.DisposeAsync();
    }

    private async Task RunAsync()
    {
        var (buffer, line) = (new byte[256], new List<byte>());
        await using var command = _store.CreateCommand();
        command.CommandText = "INSERT INTO line (at, bytes) VALUES ($at, $bytes)";
        var (at, kept) = (command.Parameters.Add("$at", SqliteType.Text), command.Parameters.Add("$bytes", SqliteType.Blob));
        while (true)
        {
            var count = await _port.BaseStream.ReadAsync(buffer);
            line.AddRange(buffer.AsSpan(0, count));
            if (line is [.., (byte)'\n'])
            {
                (at.Value, kept.Value) = (TimeProvider.System.GetUtcNow().ToString("O", CultureInfo.InvariantCulture), line.ToArray());
                _ = command.ExecuteNonQuery();
                line.Clear();
                _kept.SetResult(Stopwatch.GetTimestamp());
            }
        }
    }

    private static TaskCompletionSource<long> New() => new(TaskCreationOptions.RunContinuationsAsynchronously);
}
