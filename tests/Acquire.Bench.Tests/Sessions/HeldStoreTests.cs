using Acquire.Bench.Lots;
using Acquire.Bench.Processes;
using Acquire.Bench.Readings;
using Acquire.Bench.Sessions;
using Acquire.Formats.ProcessSheets;
using Microsoft.Data.Sqlite;

namespace Acquire.Bench.Tests.Sessions;

/// <summary>Another program holds the store, a real one, while a strip is read.</summary>
public sealed class HeldStoreTests : IAsyncLifetime
{
    private readonly string _folder = Directory.CreateTempSubdirectory("acquire-held-").FullName;
    private readonly Shown _display = new();
    private readonly ScriptedLink _link = new();
    private AcquireStore _store = null!;

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync()
    {
        _store = await EmptyStore.OpenAsync(_folder, TimeProvider.System, Token);
        await _store.AddLotAsync(new StripLot("4410", "c41", ShippedSheets.Get("c41").Layout, []), Token);
    }

    public async ValueTask DisposeAsync()
    {
        await _store.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }

    /// <summary>Longer than the store itself waits, 5 s; far more chunks come meanwhile than the queue has places.</summary>
    [Fact]
    [Trait("speed", "slow")]
    public async Task Store_held_for_7_s_costs_nothing_and_is_told()
    {
        var reading = ReadAsync(reads: 40);
        SendReads(1);
        await UntilAsync(() => _display.Updates.OfType<BenchUpdate.Accepted>().Any());
        using (Hold())
        {
            SendReads(199);
            await Task.Delay(TimeSpan.FromSeconds(7), TimeProvider.System, Token);
            Assert.False(reading.IsCompleted, "The reading has ended.");
        }

        var result = await reading;
        Assert.Equal(SessionOutcome.Completed, result.Session.Outcome.Outcome);
        Assert.Equal(200, result.Kept!.Reference.Patches.Sum(p => p.Reads.Length));
        var told = _display.Updates.OfType<BenchUpdate.Notice>().Select(n => n.Text).ToList();
        Assert.Equal(2, told.Count);
        Assert.StartsWith("The store does not take it yet: another program holds it", told[0], StringComparison.Ordinal);
        Assert.StartsWith("The store takes it again, after 7", told[1], StringComparison.Ordinal);
    }

    [Fact]
    [Trait("speed", "slow")]
    public async Task Store_that_stays_held_ends_the_reading_with_every_byte_in_the_rescue_file()
    {
        var reading = ReadAsync(reads: 40, TimeSpan.FromSeconds(3));
        SendReads(1);
        await UntilAsync(() => _display.Updates.OfType<BenchUpdate.Accepted>().Any());
        ReadingResult<KeptReference> result;
        using (Hold())
        {
            SendReads(150);
            _link.Send("R 1.26 G 1.7");
            result = await reading;
        }

        var rescue = result.Session.Rescue!;
        File.Delete(rescue.Path!);
        Assert.Equal((SessionOutcome.Failed, true), (result.Session.Outcome.Outcome, result.Session.GoesOn));
        Assert.Matches("another program holds the file.* It was waited for [5-9]", result.Session.Outcome.Reason);
        Assert.Equal(151, result.Session.Outcome.Lines.Length);
        var bytes = string.Concat(result.Session.Outcome.Unstored.Select(e => System.Text.Encoding.Latin1.GetString(e.Bytes.AsSpan())));
        Assert.Equal(string.Concat(Enumerable.Range(0, 150).Select(Line)) + "R 1.26 G 1.7", bytes);
        Assert.Equal(151, rescue.Text.Split('\n').Count(l => l.Contains("\tReading\tR 0.", StringComparison.Ordinal)));
    }

    private static string Line(int i) => FormattableString.Invariant($"R 0.{i % 100:00} G 0.62 B 0.80\r\n");

    private void SendReads(int count)
    {
        for (var i = 0; i < count; i++)
        {
            _link.Send(Line(i));
        }
    }

    /// <summary>What another program's transaction does to a store.</summary>
    private SqliteConnection Hold()
    {
        var other = new SqliteConnection($"Data Source={Path.Combine(_folder, "acquire.db")};Pooling=False");
        other.Open();
        _ = other.BeginTransaction();
        return other;
    }

    private async Task<ReadingResult<KeptReference>> ReadAsync(int reads, TimeSpan? patience = null)
    {
        var lots = new LotBook(_store, new ProcessLibrary(Path.Combine(_folder, "processes")), TimeProvider.System);
        var seat = Desk.Seat(_display);
        return await Desk.At(_store, lots, _link).ReadAsync(
            new ReferenceRequest("4410", "first reference"),
            Desk.Terms(reads), seat with { StorePatience = patience ?? seat.StorePatience }, Token);
    }

    private static async Task UntilAsync(Func<bool> condition)
    {
        while (!condition())
        {
            await Task.Delay(TimeSpan.FromMilliseconds(5), TimeProvider.System, Token);
        }
    }

    private sealed class Shown : IBenchDisplay
    {
        public ImmutableList<BenchUpdate> Updates { get; private set; } = [];

        public void Show(BenchUpdate update) => Updates = Updates.Add(update);
    }
}
