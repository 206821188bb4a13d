using System.Diagnostics;
using System.Text;
using Acquire.Bench.Lots;
using Acquire.Bench.Processes;
using Acquire.Bench.Readings;
using Acquire.Bench.Sessions;
using Acquire.Formats.ProcessSheets;
using Acquire.Instruments.Links;

namespace Acquire.Bench.Tests.Sessions;

/// <summary>Two readings in one process and on one store, one of them on a port that never stops sending.</summary>
[Trait("speed", "slow")]
public sealed class FloodedPortTests : IAsyncLifetime
{
    private readonly string _folder = Directory.CreateTempSubdirectory("acquire-flood-").FullName;
    private AcquireStore _store = null!;

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync()
    {
        _store = await EmptyStore.OpenAsync(_folder, TimeProvider.System, Token);
        foreach (var code in new[] { "4410", "4411" })
        {
            await _store.AddLotAsync(new StripLot(code, "c41", ShippedSheets.Get("c41").Layout, []), Token);
        }
    }

    public async ValueTask DisposeAsync()
    {
        await _store.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public async Task Flood_on_one_port_holds_up_no_other()
    {
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(Token);
        var (flood, flooded) = (new FloodingLink(), new Shown());
        var (link, quiet) = (new ScriptedLink(), new Shown());
        var drowned = ReadAsync("4410", flood, flooded, stop.Token);
        await UntilAsync(() => flooded.Attention > 0);
        var reading = ReadAsync("4411", link, quiet, Token);
        List<double> waits = [];
        for (var i = 0; i < 20; i++)
        {
            var sent = Stopwatch.GetTimestamp();
            link.Send(FormattableString.Invariant($"R 0.{i:00} G 0.62 B 0.80\r\n"));
            await UntilAsync(() => quiet.Accepted > i);
            waits.Add(Stopwatch.GetElapsedTime(sent).TotalSeconds);
        }

        Assert.Equal(SessionOutcome.Completed, (await reading).Session.Outcome.Outcome);
        Assert.False(drowned.IsCompleted);
        var stopping = Stopwatch.GetTimestamp();
        await stop.CancelAsync();
        var result = await drowned;
        var stopped = Stopwatch.GetElapsedTime(stopping).TotalSeconds;
        TestContext.Current.TestOutputHelper?.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{result.Session.Outcome.Lines.Length} lines, {flooded.Attention} messages, waits {waits.Average():0.000} s, "
            + $"{waits.Max():0.000} s at most, stopped in {stopped:0.000} s."));
        // Not how fast, which a busy machine decides, but that the other is served at all while the flood lasts.
        Assert.InRange(waits.Max(), 0, 10);
        Assert.InRange(stopped, 0, 10);
        Assert.InRange(flooded.Attention, 1, 40);
        Assert.Equal(result.Session.Outcome.Lines.Length, (await _store.SessionLinesAsync(result.Session.Session.Id, Token)).Count);
    }

    private Task<ReadingResult<KeptReference>> ReadAsync(
        string lot, ILinkOpener links, IBenchDisplay display, CancellationToken cancellationToken)
    {
        var lots = new LotBook(_store, new ProcessLibrary(Path.Combine(_folder, "processes")), TimeProvider.System);
        return Task.Run(
            () => Desk.At(_store, lots, links).ReadAsync(
                new ReferenceRequest(lot, "first reference"), Desk.Terms(4), Desk.Seat(display), cancellationToken),
            Token);
    }

    private static async Task UntilAsync(Func<bool> condition)
    {
        while (!condition())
        {
            await Task.Delay(TimeSpan.FromMilliseconds(1), TimeProvider.System, Token);
        }
    }

    private sealed class Shown : IBenchDisplay
    {
        public int Accepted { get; private set; }

        public int Attention { get; private set; }

        public void Show(BenchUpdate update)
        {
            Accepted += update is BenchUpdate.Accepted ? 1 : 0;
            Attention += update is BenchUpdate.Attention ? 1 : 0;
        }
    }

    /// <summary>Has a full buffer of short lines whenever it is asked, which no serial line can.</summary>
    private sealed class FloodingLink : ILinkOpener, IByteLink
    {
        private static readonly byte[] Lines = Encoding.ASCII.GetBytes(string.Concat(Enumerable.Repeat("##### 12\r\n", 103)));

        public string Name => "flooding";

        public ValueTask<IByteLink> OpenAsync(LinkAddress address, LinkSettings settings, CancellationToken cancellationToken) => new(this);

        public ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken)
        {
            cancellationToken.ThrowIfCancellationRequested();
            var count = Math.Min(buffer.Length, Lines.Length);
            Lines.AsMemory(0, count).CopyTo(buffer);
            return new(count);
        }

        public ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellationToken) => ValueTask.CompletedTask;

        public ValueTask DisposeAsync() => ValueTask.CompletedTask;
    }
}
