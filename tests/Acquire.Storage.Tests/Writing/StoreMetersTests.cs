using System.Collections.Concurrent;
using System.Diagnostics.Metrics;
using Acquire.Storage.Files;

namespace Acquire.Storage.Tests.Writing;

/// <summary>The meters are of the whole process, so these tests run when no other writes.</summary>
[CollectionDefinition(nameof(StoreMetersTests), DisableParallelization = true)]
[Collection(nameof(StoreMetersTests))]
public sealed class StoreMetersTests : StoreFixture
{
    [Fact]
    public async Task Write_tells_how_long_its_transaction_took_without_the_wait_for_its_turn()
    {
        var took = TimeSpan.FromSeconds(123.457);
        using var commits = new Commits();
        var first = Store.WriteAsync(_ => Pass(TimeSpan.FromSeconds(50)), Token);
        await Task.WhenAll(first, Store.WriteAsync(_ => Pass(took), Token));

        Assert.Empty(Assert.Single(commits.Measured, m => Is(m.Value, took)).Tags);
    }

    [Fact]
    public async Task Write_that_fails_tells_why()
    {
        var (after, later) = (TimeSpan.FromSeconds(77.701), TimeSpan.FromSeconds(77.702));
        using var commits = new Commits();
        _ = await Assert.ThrowsAsync<StoreException>(() => Store.WriteAsync<int>(
            _ =>
            {
                Pass(after);
                throw new StoreException(StoreFault.DiskFull, "full");
            },
            Token));
        _ = await Assert.ThrowsAsync<InvalidTimeZoneException>(() => Store.InTransactionAsync<int>(
            _ =>
            {
                Pass(later);
                throw new InvalidTimeZoneException();
            },
            Token));

        Assert.Equal(StoreMeters.ErrorAttribute, Assert.Single(Tags(after)).Key);
        Assert.Equal(nameof(StoreFault.DiskFull), Assert.Single(Tags(after)).Value);
        Assert.NotNull(Assert.Single(Tags(later)).Value);

        KeyValuePair<string, object?>[] Tags(TimeSpan time) => Assert.Single(commits.Measured, m => Is(m.Value, time)).Tags;
    }

    [Fact]
    public async Task Queue_holds_what_was_asked_for_and_is_not_done_and_is_empty_in_the_end()
    {
        Assert.Equal(0, QueueLength());
        using var gate = new ManualResetEventSlim();
        using var cancel = CancellationTokenSource.CreateLinkedTokenSource(Token);
        var first = Store.WriteAsync(
            _ =>
            {
                gate.Wait(Token);
                return 0;
            },
            Token);
        var second = Store.AddLotAsync(Some.Lot, cancel.Token);
        var third = Store.WriteAsync<int>(_ => throw new StoreException(StoreFault.Refused, "no"), Token);
        Assert.Equal(3, QueueLength());

        await cancel.CancelAsync();
        gate.Set();
        _ = await first;
        _ = await Assert.ThrowsAnyAsync<OperationCanceledException>(() => second);
        _ = await Assert.ThrowsAsync<StoreException>(() => third);
        await Store.DisposeAsync();
        _ = await Assert.ThrowsAsync<StoreException>(() => Store.WriteAsync(_ => 0, Token));

        Assert.Equal(0, QueueLength());
    }

    private static bool Is(double seconds, TimeSpan time) => Math.Abs(seconds - time.TotalSeconds) < 1e-6;

    private int Pass(TimeSpan time)
    {
        Time.Advance(time);
        return 0;
    }

    private static long QueueLength()
    {
        long? length = null;
        using var listener = new MeterListener();
        listener.InstrumentPublished = (instrument, asked) =>
        {
            if (instrument is { Name: "acquire.store.queue.length", Meter.Name: StoreMeters.MeterName })
            {
                asked.EnableMeasurementEvents(instrument);
            }
        };
        listener.SetMeasurementEventCallback<long>((_, value, _, _) => length = value);
        listener.Start();
        listener.RecordObservableInstruments();
        return Assert.NotNull(length);
    }

    private sealed class Commits : IDisposable
    {
        private readonly MeterListener _listener = new();

        public Commits()
        {
            _listener.SetMeasurementEventCallback<double>((_, value, tags, _) => Measured.Add((value, tags.ToArray())));
            _listener.EnableMeasurementEvents(StoreMeters.CommitDuration);
        }

        public ConcurrentBag<(double Value, KeyValuePair<string, object?>[] Tags)> Measured { get; } = [];

        public void Dispose() => _listener.Dispose();
    }
}
