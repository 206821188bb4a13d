using System.Text;
using Acquire.Bench.Lots;
using Acquire.Bench.Processes;
using Acquire.Bench.Sessions;
using Acquire.Bench.Trust;
using Acquire.Bench.Readings;
using Acquire.Formats.ProcessSheets;
using Acquire.Instruments.Links;
using Acquire.Instruments.ProfileFiles;

namespace Acquire.Bench.Tests.Sessions;

/// <summary>Sessions that are broken off and gone on with, in a real store; only the port is scripted.</summary>
[Trait("speed", "slow")]
public sealed class ResumeTests : IAsyncLifetime
{
    private static readonly string[] Lines =
    [
        "R 0.26 G 0.62 B 0.80", "R 0.27 G 0.62 B 0.80", "R 0.46 G 0.84 B 1.04", "R 0.46 G 0.85 B 1.04", "R 1.26 G 1.74 B 2.00",
        "R 1.27 G 1.74 B 2.00", "R 2.12 G 2.58 B 2.92", "R 2.13 G 2.58 B 2.92", "R 0.37 G 0.88 B 2.72", "R 0.38 G 0.88 B 2.72",
    ];

    private const string Program = "acquire resume";

    private static readonly StripRequest Strip = new() { Lot = "4410" };

    private readonly string _folder = Directory.CreateTempSubdirectory("acquire-resume-").FullName;
    private readonly System.Threading.Channels.Channel<BenchCommand> _commands =
        System.Threading.Channels.Channel.CreateUnbounded<BenchCommand>();
    private readonly Display _display = new();
    private AcquireStore _store = null!;
    private LotBook _lots = null!;
    private SessionBook _book = null!;

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync()
    {
        _store = await EmptyStore.OpenAsync(_folder, TimeProvider.System, Token);
        _lots = new LotBook(_store, new ProcessLibrary(Path.Combine(_folder, "processes")), TimeProvider.System);
        _book = new SessionBook(_store, TimeProvider.System);
        await _store.AddLotAsync(new StripLot("4410", "c41", ShippedSheets.Get("c41").Layout, []), Token);
        await EnterReferenceAsync("typed from the sheet");
    }

    public async ValueTask DisposeAsync()
    {
        await _store.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }

    /// <summary>Broken off after any byte, again and again; the line that was cut is read again, as its user would.</summary>
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    public async Task Strip_goes_on_at_the_same_patch_and_read_wherever_it_was_broken_off(int seed)
    {
        var dice = new Random(seed);
        var (sent, cuts) = (0, 0);
        var said = Strip with { Tags = new StripTags { Line = "dip tank", Bottle = "D3", Note = "first run" } };
        (bool GoesOn, KeptStrip? Kept)? result = null;
        while (result?.Kept is null)
        {
            var count = Math.Min(dice.Next(4), Lines.Length - sent);
            var isLast = sent + count == Lines.Length;
            var cut = isLast ? "" : Lines[sent + count][..dice.Next(20)];
            cuts += cut.Length > 0 ? 1 : 0;
            var links = new PluggedLinks(Text(Lines[sent..(sent + count)]) + cut);
            sent += count;
            if (result is null)
            {
                result = Of(
                    await BrokenOffAsync(stop => At(links).ReadAsync(said, Desk.Terms(2), Seat(), stop), isLast ? null : sent, cut.Length));
            }
            else
            {
                using var session = await _book.TakeUpAsync(null, null, Program, Token);
                Assert.Equal(sent - count, session.Progress.Strip.ReadsTaken);
                result = Of(await BrokenOffAsync(stop => At(links).ResumeAsync(session, Seat(), stop), isLast ? null : sent, cut.Length));
            }
        }

        var record = (await _store.FindStripAsync(result.Value.Kept.Record.Id.ToString(), Token))!;
        Assert.Equal(Lines, record.Patches.SelectMany(p => p.Reads).Select(r => Assert.Single(r.Reading.Lines).Text));
        Assert.Equal(("dip tank", "D3", "first run"), (record.Tags.Line, record.Tags.Bottle, record.Tags.Note));
        Assert.Equal(15, record.Aims.Length);
        var stored = Assert.Single(await _store.ListSessionsAsync(Token));
        Assert.Equal(SessionOutcome.Completed, stored.End!.Outcome);
        var lines = await _store.SessionLinesAsync(stored.Session.Id, Token);
        Assert.Equal(cuts, lines.Count(l => l.Meaning == LineMeaning.Unmatched));
        var rebuilt = await _book.ProgressAsync(stored.Session, Token);
        Assert.Equal(lines.Select(l => l.Line.Text), rebuilt!.Lines.Select(l => l.Line.Text));
        Assert.True(cuts > 0);
    }

    /// <summary>The instrument of a session stays the same one; the port is where the instrument is said to be by now.</summary>
    [Fact]
    public async Task Session_goes_on_with_its_instrument_on_the_port_where_that_is_now()
    {
        var terms = Desk.Terms(2);
        terms = terms with { Instrument = terms.Instrument with { Name = "bench" } };
        await BrokenOffAsync(stop => At(new PluggedLinks(Text(Lines[..3]))).ReadAsync(Strip, terms, Seat(), stop), 3, 0);
        using (var session = await _book.TakeUpAsync(null, null, Program, Token))
        {
            Assert.Equal(("bench", "scripted"), (session.Instrument.Name, session.Instrument.Address.ToString()));
        }

        var bench = Assert.Single(await _store.InstrumentRevisionsAsync("bench", Token));
        await _store.AddInstrumentAsync(
            bench with { Port = "tcp:desk:4001", Revision = bench.Revision.Next("staff", TimeProvider.System.GetUtcNow(), "moved") },
            Token);

        using var moved = await _book.TakeUpAsync(null, null, Program, Token);
        Assert.Equal(("bench", "tcp:desk:4001"), (moved.Instrument.Name, moved.Instrument.Address.ToString()));
    }

    [Fact]
    public async Task Decisions_are_still_in_force_and_can_still_be_taken_back()
    {
        var links = new PluggedLinks(Text(Lines[..3]));
        await BrokenOffAsync(
            async stop =>
            {
                var running = At(links).ReadAsync(Strip, Desk.Terms(2), Seat(), stop);
                await _display.UntilAsync<BenchUpdate.Accepted>(3);
                _commands.Writer.TryWrite(new BenchCommand.LeaveOutRead("dust"));
                await _display.UntilAsync<BenchUpdate.Done>(1);
                _commands.Writer.TryWrite(new BenchCommand.LeaveOutPatch("scratch"));
                await _display.UntilAsync<BenchUpdate.Done>(2);
                return await running;
            },
            null,
            0,
            stopAfterDone: 2);

        using var session = await _book.TakeUpAsync(null, null, Program, Token);
        var strip = session.Progress.Strip;
        Assert.Equal("dust", strip.Patches[1].Reads[0].Exclusion!.Reason);
        Assert.Equal("scratch", strip.Patches[1].LeftOut!.Reason);
        Assert.Equal("hd", strip.Next!.Patch.Key);
        Assert.Equal("ld", strip.Undo(Some.Moment).Next!.Patch.Key);
        Assert.Equal("R 0.27 G 0.62 B 0.80", strip.LastRead!.Value.Reading.Lines[0].Text);
    }

    [Fact]
    public async Task Strip_that_was_all_read_is_stored_once_and_at_once_without_the_instrument()
    {
        var links = new PluggedLinks(Text(Lines));
        var result = await BrokenOffAsync(
            stop => At(links).ReadAsync(Strip, Desk.Terms(2), Seat() with { KeepAfter = TimeSpan.FromHours(1) }, stop), 10, 0);
        Assert.Null(result.Kept);
        Assert.True(result.Session.GoesOn);

        using (var session = await _book.TakeUpAsync(null, null, Program, Token))
        {
            Assert.NotNull((await At(new NoPort()).ResumeAsync(session, Seat(), Token)).Kept);
        }

        var fault =
            await Assert.ThrowsAsync<BenchException>(() => _book.TakeUpAsync(result.Session.Session.Id.ToString(), null, Program, Token));
        Assert.Contains("has ended (completed: all patches read)", fault.Message, StringComparison.Ordinal);
        Assert.Single(await _store.ListStripsAsync(new Storage.Records.StripFilter(), Token).ToListAsync(Token));
    }

    [Fact]
    public async Task Strip_is_judged_by_what_was_in_force_when_it_was_begun()
    {
        await BrokenOffAsync(stop => At(new PluggedLinks(Text(Lines[..3]))).ReadAsync(Strip, Desk.Terms(2), Seat(), stop), 3, 0);
        var before = (await _store.CurrentReferenceAsync("4410", Token))!;
        await EnterReferenceAsync("lamp replaced");
        Directory.CreateDirectory(Path.Combine(_folder, "processes"));
        var sheet = ProcessSheetWriter.Write(ShippedSheets.Get("c41")).Replace(
            "Colour negative", "Colour negative, changed", StringComparison.Ordinal);
        await File.WriteAllTextAsync(Path.Combine(_folder, "processes", "c41.json"), sheet, Token);

        using var session = await _book.TakeUpAsync(null, null, Program, Token);
        var record = ((KeptStrip)(await At(new PluggedLinks(Text(Lines[3..]))).ResumeAsync(session, Seat(), Token)).Kept!).Record;

        Assert.Equal(before.Id, record.ReferenceId);
        Assert.Equal(ShippedSheets.Get("c41").Name, record.JudgedBy.Name);
    }

    [Fact]
    public async Task Profile_that_was_changed_meanwhile_is_used_as_it_was()
    {
        var file = Path.Combine(_folder, "own.json");
        var profile = new ProfileLibrary().Find("labelled-line");
        await File.WriteAllTextAsync(file, profile.Text, Token);
        var own = ProfileLibrary.ReadFile(file);
        var terms =
            Desk.Terms(2) with { Instrument = new InstrumentSetup(new LinkAddress.Serial("plugged"), own, own.Link with { Baud = 1200 }) };
        await BrokenOffAsync(stop => At(new PluggedLinks(Text(Lines[..3]))).ReadAsync(Strip, terms, Seat(), stop), 3, 0);
        await File.WriteAllTextAsync(file, "{ }", Token);

        using var session = await _book.TakeUpAsync(null, new LinkAddress.Serial("other"), Program, Token);

        Assert.Equal(
            (profile.Hash, 1200, "other"),
            (session.Instrument.Profile.Hash, session.Instrument.Settings.Baud, session.Instrument.Address.ToString()));
        var record = ((KeptStrip)(await At(new PluggedLinks(Text(Lines[3..]))).ResumeAsync(session, Seat(), Token)).Kept!).Record;
        Assert.Equal(10, record.Patches.Sum(p => p.Reads.Length));
    }

    [Fact]
    public async Task Session_that_is_being_read_cannot_be_taken_up_a_second_time()
    {
        await BrokenOffAsync(stop => At(new PluggedLinks(Text(Lines[..3]))).ReadAsync(Strip, Desk.Terms(2), Seat(), stop), 3, 0);
        using var first = await _book.TakeUpAsync(null, null, Program, Token);
        var id = first.Session.Id.ToString();

        Assert.Equal(
            StoreFault.Conflict, (await Assert.ThrowsAsync<StoreException>(() => _book.TakeUpAsync(id, null, Program, Token))).Fault);
        await Assert.ThrowsAsync<BenchException>(() => _book.TakeUpAsync(null, null, Program, Token));
        Assert.Empty(await _book.UnfinishedAsync(Token));
    }

    [Fact]
    public async Task Discarded_session_has_ended_with_its_reason_and_keeps_its_lines()
    {
        await BrokenOffAsync(stop => At(new PluggedLinks(Text(Lines[..3]))).ReadAsync(Strip, Desk.Terms(2), Seat(), stop), 3, 0);
        var stored = Assert.Single(await _book.UnfinishedAsync(Token));

        await _book.DiscardAsync(stored, "strip was lost", Token);

        var (session, _) = Assert.Single(await _book.ListAsync(Token));
        Assert.Equal((SessionOutcome.Cancelled, "strip was lost", 3), (session.End!.Outcome, session.End.Reason, session.Lines));
        await Assert.ThrowsAsync<BenchException>(() => _book.DiscardAsync(stored, "again", Token));
        await Assert.ThrowsAsync<BenchException>(() => _book.TakeUpAsync(session.Session.Id.ToString("N")[^8..], null, Program, Token));
    }

    [Fact]
    public async Task Session_in_which_nothing_came_ends_and_is_not_offered()
    {
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(Token);
        var running = At(new PluggedLinks("")).ReadAsync(Strip, Desk.Terms(2), Seat(), stop.Token);
        await _display.UntilAsync<BenchUpdate.Prompt>(1);
        await stop.CancelAsync();
        Assert.False((await running).Session.GoesOn);
        Assert.Empty(await _book.UnfinishedAsync(Token));
    }

    [Fact]
    public async Task Reference_recheck_check_and_repeatability_test_go_on_too()
    {
        var before = (await _store.CurrentReferenceAsync("4410", Token))!.Id;
        await BrokenOffAsync(
            stop => At(Some3()).ReadAsync(new ReferenceRequest("4410", "lamp replaced"), Desk.Terms(2), Seat(), stop), 3, 0);
        var reference = await GoOnAsync<KeptReference>(SessionPurpose.Reference, Lines[3..]);
        Assert.Equal("lamp replaced", reference.Reference.Revision.Reason);
        Assert.NotEqual(before, (await _store.CurrentReferenceAsync("4410", Token))!.Id);

        await BrokenOffAsync(stop => At(Some3()).ReadAsync(new RecheckRequest("4410"), Desk.Terms(2), Seat(), stop), 3, 0);
        _ = await GoOnAsync<RecheckReview>(SessionPurpose.Recheck, Lines[3..]);
        Assert.Single(await _store.ListRechecksAsync("4410", Token));

        var layout = ShippedSheets.Get("c41").Layout;
        await _store.AddPlaqueAsync(
            new Plaque(
                "low and high",
                [new PlaquePatch(layout.Patches[0], ChannelDensities.Rgb(0.26m, 0.62m, 0.80m), 0.01), new PlaquePatch(
                    layout.Patches[1], ChannelDensities.Rgb(0.46m, 0.84m, 1.04m), 0.01)],
                0.02,
                30),
            Token);
        await BrokenOffAsync(stop => At(Some3()).ReadAsync(new CheckRequest("low and high"), Desk.Terms(2), Seat(), stop), 3, 0);
        Assert.True((await GoOnAsync<JudgedCheck>(SessionPurpose.Check, Lines[3..4])).Check.Passed);
        Assert.Single(await _store.ListChecksAsync(Token));

        var grey = new RepeatabilityRequest(new StripLayout("test", [new Patch("grey", "grey")]), 2, 0.5);
        await BrokenOffAsync(stop => At(Some3()).ReadAsync(grey, Desk.Terms(4), Seat(), stop), 3, 0);
        var test = (await GoOnAsync<KeptTest>(SessionPurpose.Repeatability, Lines[3..4])).Test;
        Assert.Equal((2, 0.5, 4), (test.ReadsPerPlacement, test.Specification, test.Patches[0].Reads.Length));
        Assert.Empty(await _book.UnfinishedAsync(Token));

        static PluggedLinks Some3() => new(Text(Lines[..3]));
    }

    private static string Text(IEnumerable<string> lines) => string.Concat(lines.Select(l => l + "\r\n"));

    private static (bool GoesOn, KeptStrip? Kept) Of<TKept>(ReadingResult<TKept> result)
        where TKept : KeptReading => (result.Session.GoesOn, result.Kept as KeptStrip);

    /// <summary>Goes on with the newest session, whatever it is for.</summary>
    private async Task<TKept> GoOnAsync<TKept>(SessionPurpose purpose, IEnumerable<string> lines)
        where TKept : KeptReading
    {
        Assert.Equal(purpose, (await _book.UnfinishedAsync(Token))[^1].Purpose);
        return Assert.IsType<TKept>((await At(new PluggedLinks(Text(lines))).ResumeAsync(null, null, Seat(), Token)).Kept);
    }

    /// <summary>
    /// Lets a session run until so many reads are taken and the cut bytes are stored, then stops it from outside; null lets it end.
    /// </summary>
    private async Task<T> BrokenOffAsync<T>(Func<CancellationToken, Task<T>> run, int? reads, int cut, int? stopAfterDone = null)
    {
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(Token);
        var before = (await StoredAsync()).Opened;
        var running = run(stop.Token);
        if (stopAfterDone is { } done)
        {
            await _display.UntilAsync<BenchUpdate.Done>(done);
            await stop.CancelAsync();
        }
        else if (reads is { } wanted)
        {
            while (await StoredAsync() is var (opened, taken, pending) && (opened == before || taken < wanted || pending < cut))
            {
                Assert.False(running.IsCompleted);
                await Task.Delay(TimeSpan.FromMilliseconds(2), TimeProvider.System, Token);
            }

            await stop.CancelAsync();
        }

        return await running;
    }

    /// <summary>
    /// How many links were opened, how many whole lines of readings, and how many bytes after the last line end, the newest open session
    /// has.
    /// </summary>
    private async Task<(int Opened, int Taken, int Pending)> StoredAsync()
    {
        if (await _store.ListOpenSessionsAsync(Token) is not [.., var stored])
        {
            return (0, 0, 0);
        }

        var entries = await _store.SessionEntriesAsync(stored.Session.Id, Token);
        var lines = await _store.SessionLinesAsync(stored.Session.Id, Token);
        var open = entries.Skip(entries.ToList().FindLastIndex(e => e.Event == JournalEvent.Opened)).SelectMany(e => e.Bytes).ToArray();
        var rest = Encoding.ASCII.GetString(open);
        return (entries.Count(e => e.Event == JournalEvent.Opened),
            lines.Count(l => l.Meaning == LineMeaning.Reading),
            rest.Length - (rest.LastIndexOf('\n') + 1));
    }

    private ReadingDesk At(ILinkOpener links) => Desk.At(_store, _lots, links);

    private BenchSeat Seat() => Desk.Seat(_display, _commands.Reader);

    private Task<LotReference> EnterReferenceAsync(string reason) => _lots.EnterReferenceAsync(
        "4410",
        [.. ShippedSheets.Get("c41").Layout.Patches.Select(
            (p, i) => new EnteredDensities(p.Key, ChannelDensities.Rgb(0.3m + i, 0.6m + i, 0.8m + i)))],
        "staff",
        reason,
        Token);

    private sealed class NoPort : ILinkOpener
    {
        public ValueTask<IByteLink> OpenAsync(LinkAddress address, LinkSettings settings, CancellationToken cancellationToken) =>
            throw new LinkException(LinkFault.Gone, "there is no instrument");
    }

    private sealed class Display : IBenchDisplay
    {
        private readonly List<BenchUpdate> _shown = [];

        public void Show(BenchUpdate update)
        {
            lock (_shown)
            {
                _shown.Add(update);
            }
        }

        public async Task UntilAsync<T>(int times)
            where T : BenchUpdate
        {
            while (Count<T>() < times)
            {
                await Task.Delay(TimeSpan.FromMilliseconds(2), TimeProvider.System, Token);
            }
        }

        private int Count<T>()
        {
            lock (_shown)
            {
                return _shown.OfType<T>().Count();
            }
        }
    }
}
