using Acquire.Bench.Lots;
using Acquire.Bench.Processes;
using Acquire.Bench.Sessions;
using Acquire.Bench.Readings;
using Acquire.Formats.ProcessSheets;

namespace Acquire.Bench.Tests.Strips;

/// <summary>An instrument that is unplugged and plugged in again while a strip is read, in a real store.</summary>
public sealed class ReplugTests : IAsyncLifetime
{
    private readonly string _folder = Directory.CreateTempSubdirectory("acquire-replug-").FullName;
    private readonly Shown _display = new();
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

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(5)]
    public async Task Strip_goes_on_at_the_same_read_wherever_the_cable_was_pulled(int seed)
    {
        var random = new Random(seed);
        var lines = Enumerable.Range(0, 100).Select(i => FormattableString.Invariant($"R 0.{i:00} G 0.62 B 0.80")).ToList();
        List<string> plugs = [];
        for (var sent = 0; sent < lines.Count;)
        {
            var count = Math.Min(random.Next(5), lines.Count - sent);
            var cut = sent + count < lines.Count ? lines[sent + count][..(1 + random.Next(19))] : "";
            plugs.Add(string.Concat(lines.Skip(sent).Take(count).Select(l => l + "\r\n")) + cut);
            sent += count;
        }

        var result = await ReadAsync(new PluggedLinks(plugs), TimeSpan.FromMinutes(1), reads: 20);

        Assert.Equal(SessionOutcome.Completed, result.Session.Outcome.Outcome);
        Assert.Equal(lines, result.Kept!.Reference.Patches.SelectMany(p => p.Reads).Select(r => Assert.Single(r.Reading.Lines).Text));
        Assert.Equal(plugs.Count - 1, _display.States.Count(s => s == LinkCondition.Gone));
        Assert.Equal(plugs.Count, _display.States.Count(s => s == LinkCondition.Connected));
    }

    [Fact]
    public async Task Instrument_that_is_not_waited_for_fails_the_session_and_keeps_its_lines()
    {
        var result =
            await ReadAsync(new PluggedLinks("R 0.26 G 0.62 B 0.80\r\nR 0.4", "R 0.46 G 0.84 B 1.04\r\n"), TimeSpan.Zero, reads: 1);
        Assert.Equal(SessionOutcome.Failed, result.Session.Outcome.Outcome);
        Assert.Equal("plugged went away.", result.Session.Outcome.Reason);
        Assert.Equal([LineMeaning.Reading, LineMeaning.Unmatched], result.Session.Outcome.Lines.Select(l => l.Meaning));
    }

    private async Task<ReadingResult<KeptReference>> ReadAsync(PluggedLinks links, TimeSpan giveUpAfter, int reads)
    {
        var lots = new LotBook(_store, new ProcessLibrary(Path.Combine(_folder, "processes")), TimeProvider.System);
        return await Desk.At(_store, lots, links).ReadAsync(
            new ReferenceRequest("4410", "first reference"),
            Desk.Terms(reads), Desk.Seat(_display) with { GiveUpAfter = giveUpAfter }, Token);
    }

    private sealed class Shown : IBenchDisplay
    {
        public List<LinkCondition> States { get; } = [];

        public void Show(BenchUpdate update)
        {
            if (update is BenchUpdate.Link { Condition: var state })
            {
                States.Add(state);
            }
        }
    }
}
