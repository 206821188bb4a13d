using System.Collections.Concurrent;
using System.Diagnostics.Metrics;
using Acquire.Storage.Files;

namespace Acquire.Storage.Tests.Writing;

/// <summary>The meters are of the whole process, in which other tests write too: each test here knows its own by something odd.</summary>
public sealed class StoreMetersTests : StoreFixture
{
    private static readonly AsyncLocal<bool> Mine = new();

    [Fact]
    public async Task Write_tells_how_long_its_transaction_took_without_the_wait_for_its_turn()
    {
        var took = TimeSpan.FromSeconds(123.457);
        using var commits = new Listener<double>(StoreMeters.CommitDuration);
        var first = Store.WriteAsync(_ => Pass(TimeSpan.FromSeconds(50)), Token);
        await Task.WhenAll(first, Store.WriteAsync(_ => Pass(took), Token));

        Assert.Empty(Assert.Single(commits.Measured, m => Is(m.Value, took)).Tags);
    }

    [Fact]
    public async Task Write_that_fails_tells_why()
    {
        var (after, later) = (TimeSpan.FromSeconds(77.701), TimeSpan.FromSeconds(77.702));
        using var commits = new Listener<double>(StoreMeters.CommitDuration);
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
        Mine.Value = true;
        using var queue = new Listener<long>(StoreMeters.QueueLength, () => Mine.Value);
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
        Assert.Equal(3, queue.Measured.Sum(m => m.Value));

        await cancel.CancelAsync();
        gate.Set();
        _ = await first;
        _ = await Assert.ThrowsAnyAsync<OperationCanceledException>(() => second);
        _ = await Assert.ThrowsAsync<StoreException>(() => third);
        await Store.DisposeAsync();
        _ = await Assert.ThrowsAsync<StoreException>(() => Store.WriteAsync(_ => 0, Token));

        Assert.Equal(0, queue.Measured.Sum(m => m.Value));
    }

    private static bool Is(double seconds, TimeSpan time) => Math.Abs(seconds - time.TotalSeconds) < 1e-6;

    private int Pass(TimeSpan time)
    {
        Time.Advance(time);
        return 0;
    }

    private sealed class Listener<T> : IDisposable
        where T : struct
    {
        private readonly MeterListener _listener = new();

        public Listener(Instrument<T> instrument, Func<bool>? which = null)
        {
            _listener.SetMeasurementEventCallback<T>((_, value, tags, _) =>
            {
                if (which?.Invoke() ?? true)
                {
                    Measured.Add((value, tags.ToArray()));
                }
            });
            _listener.EnableMeasurementEvents(instrument);
        }

        public ConcurrentBag<(T Value, KeyValuePair<string, object?>[] Tags)> Measured { get; } = [];

        public void Dispose() => _listener.Dispose();
    }
}
