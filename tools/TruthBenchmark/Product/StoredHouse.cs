using Acquire.Bench.Books;
using Acquire.Bench.Causes;
using Acquire.Bench.Daily;
using Acquire.Bench.History;
using Acquire.Bench.Import;
using Acquire.Bench.Life;
using Acquire.Bench.Lots;
using Acquire.Bench.Processes;
using Acquire.Bench.Reports;
using Acquire.Formats;
using Acquire.Formats.Tables;
using Acquire.Storage;
using Acquire.Storage.Import;
using Acquire.Storage.Records;
using TruthBenchmark.World;

namespace TruthBenchmark.Product;

/// <summary>
/// The papers of a house taken the whole way: a database of its own, the lot added, its reference typed, bottles entered, strips imported
/// from a file; then what the commands ask.
/// </summary>
internal sealed class StoredHouse : IAsyncDisposable
{
    private static readonly ProcessLibrary Processes = new(Path.Combine(Path.GetTempPath(), "acquire-truth-no-own-sheets"));
    private static readonly HistoryFilter All = new(StripFilter.All);
    private readonly string _folder;
    private readonly StoppedClock _clock;
    private readonly AcquireStore _store;

    private StoredHouse(string folder, StoppedClock clock, AcquireStore store) => (_folder, _clock, _store) = (folder, clock, store);

    public static async Task<StoredHouse> OfAsync(House house, CancellationToken cancellationToken)
    {
        var folder = Directory.CreateTempSubdirectory("acquire-truth-").FullName;
        var clock = new StoppedClock { Now = house.Lots.Min(l => l.Reference.At) };
        var stored = new StoredHouse(folder, clock, await AcquireStore.OpenAsync(folder, clock, cancellationToken));
        await stored.EnterAsync(house, cancellationToken);
        return stored;
    }

    /// <summary>What the history says of its last strip.</summary>
    public async Task<ImmutableArray<Said>> VerdictsAsync(CancellationToken cancellationToken) =>
        VerdictsSaid.Of((await HistoryAsync(cancellationToken)).Strips[^1].Judgement);

    public async Task<LifeSaid> LifeAsync(CancellationToken cancellationToken) =>
        LifeSaid.Of((await new LifeDesk(_store, _clock).AskAsync(new LifeAsked(All), cancellationToken)).Study);

    public async Task CausesAsync(CancellationToken cancellationToken)
    {
        var last = (await HistoryAsync(cancellationToken)).Records[^1];
        var asked = new CauseAsked(last.Id.ToString(), []);
        _ = CauseWords.First((await new CauseDesk(_store, _clock).AskAsync(asked, cancellationToken)).Study);
    }

    public async Task DailyAsync(CancellationToken cancellationToken) =>
        _ = await new DailyDesk(_store, Processes, _clock).AskAsync(cancellationToken);

    public async Task ReportAsync(CancellationToken cancellationToken) =>
        _ = await new ReportDesk(_store, _clock).AskAsync(new ReportAsked(All), cancellationToken);

    public async ValueTask DisposeAsync()
    {
        await _store.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }

    private async Task<StripHistory> HistoryAsync(CancellationToken cancellationToken) =>
        await StripHistory.LoadAsync(_store, All, _clock, cancellationToken)
        ?? throw new InvalidOperationException("The import left no strip.");

    private async Task EnterAsync(House house, CancellationToken cancellationToken)
    {
        var lots = new LotBook(_store, Processes, _clock);
        foreach (var lot in house.Lots)
        {
            _clock.Now = lot.Reference.At;
            await _store.AddLotAsync(new StripLot(lot.Code, Records.Sheet.Key, Records.Layout), cancellationToken);
            var typed = lot.Reference.Reads.Select((p, i) => new EnteredDensities(
                Records.Layout.Patches[i].Key, ChannelDensities.Rgb(p[0].Red, p[0].Green, p[0].Blue)));
            _ = await lots.EnterReferenceAsync(lot.Code, [.. typed], "staff", "typed", cancellationToken);
        }

        var books = new DarkroomBooks(_store, _clock);
        foreach (var bottle in house.Bottles)
        {
            _clock.Now = bottle.Mixed;
            _ = await books.EnterAsync(
                new MixRequest($"mix of {bottle.Name}", SolutionKind.Developer, 1, Records.Sheet.Key),
                new EntryInput("staff"), cancellationToken);
            _ = await books.EnterAsync(new FillRequest(bottle.Name), new EntryInput("staff"), cancellationToken);
        }

        _clock.Now = house.Strips[^1].At.AddHours(1);
        var file = Path.Combine(_folder, "strips.csv");
        await File.WriteAllTextAsync(file, Table(house), cancellationToken);
        // As a user makes it: proposed by the heading, written, and imported with.
        var map = Path.Combine(_folder, "map.json");
        var proposal = await MapProposal.OfAsync(file, Records.Layout, cancellationToken);
        await File.WriteAllTextAsync(map, ColumnMapFile.Write(proposal.Map), cancellationToken);
        var importer = new StripImporter(_store, Processes, _clock);
        var report = await importer.RunAsync(new ImportRequest(file, "staff") { Map = map }, new Silence(), cancellationToken);
        if (!report.Written || report.Count(ImportFate.Added) != house.Strips.Length)
        {
            throw new InvalidOperationException($"The import added {report.Count(ImportFate.Added)} of {house.Strips.Length} strips.");
        }
    }

    private static string Table(House house) => string.Join('\n', house.Strips
        .SelectMany(s => s.Reads.SelectMany((p, i) => p.Select((r, k) => string.Create(
            CultureInfo.InvariantCulture,
            $"{s.At:yyyy-MM-ddTHH:mm:ssZ},{s.Lot},dip "
            + $"tank,{s.Bottle},{Records.Layout.Patches[i].Key},{k + 1},{r.Red},{r.Green},{r.Blue}"))))
        .Prepend("processed_at,lot,line,bottle,patch,read,red,green,blue")) + '\n';

    private sealed class StoppedClock : TimeProvider
    {
        public DateTimeOffset Now { get; set; }

        public override TimeZoneInfo LocalTimeZone => TimeZoneInfo.Utc;

        public override DateTimeOffset GetUtcNow() => Now;
    }

    private sealed class Silence : IImportListener
    {
        public void Note(FilePlace spot, string text)
        {
        }

        public void Entry(ImportedEntry entry)
        {
        }

        public Task<DateStyle?> AskAsync(FilePlace spot, DateVerdict dates, CancellationToken cancellationToken) =>
            Task.FromResult<DateStyle?>(null);
    }
}
