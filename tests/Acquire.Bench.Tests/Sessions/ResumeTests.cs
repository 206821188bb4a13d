using System.Text;
using Acquire.Analysis.ProcessSheets;
using Acquire.Bench.Lots;
using Acquire.Bench.Processes;
using Acquire.Bench.Sessions;
using Acquire.Bench.Strips;
using Acquire.Bench.Trust;
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

    private static readonly ResumeTerms Terms = new("acquire resume", null, TimeSpan.Zero);

    private readonly string _folder = Directory.CreateTempSubdirectory("acquire-resume-").FullName;
    private readonly System.Threading.Channels.Channel<BenchCommand> _commands = System.Threading.Channels.Channel.CreateUnbounded<BenchCommand>();
    private readonly Display _display = new();
    private AcquireStore _store = null!;
    private LotBook _lots = null!;
    private SessionBook _book = null!;

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync()
    {
        _store = await AcquireStore.OpenAsync(_folder, TimeProvider.System, Token);
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
        StripResult? result = null;
        while (result?.Record is null)
        {
            var count = Math.Min(dice.Next(4), Lines.Length - sent);
            var isLast = sent + count == Lines.Length;
            var cut = isLast ? "" : Lines[sent + count][..dice.Next(20)];
            cuts += cut.Length > 0 ? 1 : 0;
            var links = new PluggedLinks(Text(Lines[sent..(sent + count)]) + cut);
            sent += count;
            if (result is null)
            {
                result = await BrokenOffAsync(stop => Strips(links).ReadStripAsync(Request(2), new StripRequest { Tags = new StripTags { Line = "dip tank", Bottle = "D3", Note = "first run" } }, Seat(), stop), isLast ? null : sent, cut.Length);
            }
            else
            {
                using var session = await _book.TakeUpAsync(null, null, Terms, Token);
                Assert.Equal(sent - count, session.Progress.Strip.ReadsTaken);
                result = await BrokenOffAsync(stop => Strips(links).ResumeStripAsync(session, Seat(), stop), isLast ? null : sent, cut.Length);
            }
        }

        var record = (await _store.FindStripAsync(result.Record.Id.ToString(), Token))!;
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

    [Fact]
    public async Task Decisions_are_still_in_force_and_can_still_be_taken_back()
    {
        var links = new PluggedLinks(Text(Lines[..3]));
        await BrokenOffAsync(
            async stop =>
            {
                var running = Strips(links).ReadStripAsync(Request(2), new StripRequest(), Seat(), stop);
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

        using var session = await _book.TakeUpAsync(null, null, Terms, Token);
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
            stop => Strips(links).ReadStripAsync(Request(2) with { KeepAfter = TimeSpan.FromHours(1) }, new StripRequest(), Seat(), stop), 10, 0);
        Assert.Null(result.Record);
        Assert.True(result.Session.GoesOn);

        using (var session = await _book.TakeUpAsync(null, null, Terms, Token))
        {
            Assert.NotNull((await Strips(new NoPort()).ResumeStripAsync(session, Seat(), Token)).Record);
        }

        var fault = await Assert.ThrowsAsync<BenchException>(() => _book.TakeUpAsync(result.Session.Session.Id.ToString(), null, Terms, Token));
        Assert.Contains("has ended (completed: all patches read)", fault.Message, StringComparison.Ordinal);
        Assert.Single(await _store.ListStripsAsync(new Storage.Strips.StripFilter(), Token).ToListAsync(Token));
    }

    [Fact]
    public async Task Strip_is_judged_by_what_was_in_force_when_it_was_begun()
    {
        await BrokenOffAsync(stop => Strips(new PluggedLinks(Text(Lines[..3]))).ReadStripAsync(Request(2), new StripRequest(), Seat(), stop), 3, 0);
        var before = (await _store.CurrentReferenceAsync("4410", Token))!;
        await EnterReferenceAsync("lamp replaced");
        Directory.CreateDirectory(Path.Combine(_folder, "processes"));
        var sheet = ProcessSheetWriter.Write(ShippedSheets.Get("c41")).Replace("Colour negative", "Colour negative, changed", StringComparison.Ordinal);
        await File.WriteAllTextAsync(Path.Combine(_folder, "processes", "c41.json"), sheet, Token);

        using var session = await _book.TakeUpAsync(null, null, Terms, Token);
        var record = (await Strips(new PluggedLinks(Text(Lines[3..]))).ResumeStripAsync(session, Seat(), Token)).Record!;

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
        var request = Request(2) with { Instrument = new InstrumentSetup(new LinkAddress.Serial("plugged"), own, own.Link with { Baud = 1200 }) };
        await BrokenOffAsync(stop => Strips(new PluggedLinks(Text(Lines[..3]))).ReadStripAsync(request, new StripRequest(), Seat(), stop), 3, 0);
        await File.WriteAllTextAsync(file, "{ }", Token);

        using var session = await _book.TakeUpAsync(null, new LinkAddress.Serial("other"), Terms, Token);

        Assert.Equal((profile.Hash, 1200, "other"), (session.Instrument.Profile.Hash, session.Instrument.Settings.Baud, session.Instrument.Address.ToString()));
        var record = (await Strips(new PluggedLinks(Text(Lines[3..]))).ResumeStripAsync(session, Seat(), Token)).Record!;
        Assert.Equal(10, record.Patches.Sum(p => p.Reads.Length));
    }

    [Fact]
    public async Task Session_that_is_being_read_cannot_be_taken_up_a_second_time()
    {
        await BrokenOffAsync(stop => Strips(new PluggedLinks(Text(Lines[..3]))).ReadStripAsync(Request(2), new StripRequest(), Seat(), stop), 3, 0);
        using var first = await _book.TakeUpAsync(null, null, Terms, Token);
        var id = first.Session.Id.ToString();

        Assert.Equal(StoreFault.Conflict, (await Assert.ThrowsAsync<StoreException>(() => _book.TakeUpAsync(id, null, Terms, Token))).Fault);
        await Assert.ThrowsAsync<BenchException>(() => _book.TakeUpAsync(null, null, Terms, Token));
        Assert.Empty(await _book.UnfinishedAsync(Token));
    }

    [Fact]
    public async Task Discarded_session_has_ended_with_its_reason_and_keeps_its_lines()
    {
        await BrokenOffAsync(stop => Strips(new PluggedLinks(Text(Lines[..3]))).ReadStripAsync(Request(2), new StripRequest(), Seat(), stop), 3, 0);
        var stored = Assert.Single(await _book.UnfinishedAsync(Token));

        await _book.DiscardAsync(stored, "strip was lost", Token);

        var (session, _) = Assert.Single(await _book.ListAsync(Token));
        Assert.Equal((SessionOutcome.Cancelled, "strip was lost", 3), (session.End!.Outcome, session.End.Reason, session.Lines));
        await Assert.ThrowsAsync<BenchException>(() => _book.DiscardAsync(stored, "again", Token));
        await Assert.ThrowsAsync<BenchException>(() => _book.TakeUpAsync(session.Session.Id.ToString("N")[^8..], null, Terms, Token));
    }

    [Fact]
    public async Task Session_in_which_nothing_came_ends_and_is_not_offered()
    {
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(Token);
        var running = Strips(new PluggedLinks("")).ReadStripAsync(Request(2), new StripRequest(), Seat(), stop.Token);
        await _display.UntilAsync<BenchUpdate.Prompt>(1);
        await stop.CancelAsync();
        Assert.False((await running).Session.GoesOn);
        Assert.Empty(await _book.UnfinishedAsync(Token));
    }

    [Fact]
    public async Task Reference_recheck_check_and_repeatability_test_go_on_too()
    {
        var before = (await _store.CurrentReferenceAsync("4410", Token))!.Id;
        await BrokenOffAsync(stop => Strips(Some3()).ReadReferenceAsync(Request(2), "lamp replaced", Seat(), stop), 3, 0);
        var reference = await Strips(new PluggedLinks(Text(Lines[3..]))).ResumeReferenceAsync(await TakeUpAsync(SessionPurpose.Reference), Seat(), Token);
        Assert.Equal("lamp replaced", reference.Reference!.Revision.Reason);
        Assert.NotEqual(before, (await _store.CurrentReferenceAsync("4410", Token))!.Id);

        RecheckBench Recheck(ILinkOpener links) => new(_store, _lots, links, TimeProvider.System, NullLogger.Instance);
        await BrokenOffAsync(stop => Recheck(Some3()).RecheckAsync(Request(2), Seat(), stop), 3, 0);
        Assert.NotNull((await Recheck(new PluggedLinks(Text(Lines[3..]))).ResumeAsync(await TakeUpAsync(SessionPurpose.Recheck), Seat(), Token)).Review);
        Assert.Single(await _store.ListRechecksAsync("4410", Token));

        var layout = ShippedSheets.Get("c41").Layout;
        await _store.AddPlaqueAsync(
            new Plaque(
                "low and high",
                [new PlaquePatch(layout.Patches[0], ChannelDensities.Rgb(0.26m, 0.62m, 0.80m), 0.01), new PlaquePatch(layout.Patches[1], ChannelDensities.Rgb(0.46m, 0.84m, 1.04m), 0.01)],
                0.02,
                30),
            Token);
        CheckBench Check(ILinkOpener links) => new(_store, new CheckBook(_store, TimeProvider.System), links, TimeProvider.System, NullLogger.Instance);
        await BrokenOffAsync(stop => Check(Some3()).CheckAsync(Request(2), "low and high", Seat(), stop), 3, 0);
        Assert.True((await Check(new PluggedLinks(Text(Lines[3..4]))).ResumeAsync(await TakeUpAsync(SessionPurpose.Check), Seat(), Token)).Judged!.Check.Passed);
        Assert.Single(await _store.ListChecksAsync(Token));

        RepeatabilityBench Test(ILinkOpener links) => new(_store, links, TimeProvider.System, NullLogger.Instance);
        await BrokenOffAsync(
            stop => Test(Some3()).TestAsync(Request(4), new StripLayout("test", [new Patch("grey", "grey")]), 2, 0.5, Seat(), stop), 3, 0);
        var test = await Test(new PluggedLinks(Text(Lines[3..4]))).ResumeAsync(await TakeUpAsync(SessionPurpose.Repeatability), Seat(), Token);
        Assert.Equal((2, 0.5, 4), (test.Kept!.Test.ReadsPerPlacement, test.Kept.Test.Specification, test.Kept.Test.Patches[0].Reads.Length));
        Assert.Empty(await _book.UnfinishedAsync(Token));

        static PluggedLinks Some3() => new(Text(Lines[..3]));
    }

    private static string Text(IEnumerable<string> lines) => string.Concat(lines.Select(l => l + "\r\n"));

    private async Task<OpenSession> TakeUpAsync(SessionPurpose purpose)
    {
        var session = await _book.TakeUpAsync(null, null, Terms, Token);
        Assert.Equal(purpose, session.Plan.Purpose);
        return session;
    }

    /// <summary>Lets a session run until so many reads are taken and the cut bytes are stored, then stops it from outside; null lets it end.</summary>
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

    /// <summary>How many links were opened, how many whole lines of readings, and how many bytes after the last line end, the newest open session has.</summary>
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
        return (entries.Count(e => e.Event == JournalEvent.Opened), lines.Count(l => l.Meaning == LineMeaning.Reading), rest.Length - (rest.LastIndexOf('\n') + 1));
    }

    private StripBench Strips(ILinkOpener links) => new(_store, _lots, links, TimeProvider.System, NullLogger.Instance);

    private BenchSeat Seat() => new(_display, _commands.Reader);

    private static SessionRequest Request(int reads)
    {
        var profile = new ProfileLibrary().Find("labelled-line");
        return new SessionRequest("4410", new InstrumentSetup(new LinkAddress.Serial("plugged"), profile, profile.Link), reads, "staff") { GiveUpAfter = TimeSpan.Zero };
    }

    private Task<LotReference> EnterReferenceAsync(string reason) => _lots.EnterReferenceAsync(
        "4410",
        [.. ShippedSheets.Get("c41").Layout.Patches.Select((p, i) => new EnteredDensities(p.Key, ChannelDensities.Rgb(0.3m + i, 0.6m + i, 0.8m + i)))],
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
