using System.Text.RegularExpressions;
using Acquire.Analysis.StripWork;
using Acquire.Bench.Books;
using Acquire.Bench.History;
using Acquire.Bench.Lots;
using Acquire.Bench.Processes;
using Acquire.Bench.Strips;
using Acquire.Storage.Inspection;
using Acquire.Storage.Records;
using Microsoft.Extensions.Time.Testing;

namespace Acquire.Tests.Demo;

/// <summary>The demo's term as other commands find it. All of it is invented; nothing here checks numbers against the outside.</summary>
[Trait("speed", "slow")]
public sealed partial class DemoHistoryTests(FilledTerm term) : IClassFixture<FilledTerm>
{
    private static readonly FakeTimeProvider Time = new(FilledTerm.Now);

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Filled_store_is_sound_and_its_means_follow_from_its_reads()
    {
        var report = await StoreInspection.InspectAsync(Path.Combine(term.Folder, "acquire.db"), Time, Token);
        Assert.True(report.IsSound, string.Join(Environment.NewLine, report.Findings));
    }

    [Fact]
    public void Filling_says_what_there_is_and_the_books_warn_of_nothing()
    {
        Assert.Empty(term.Complained);
        Assert.Contains($"{term.Strips.Count} strips of 2 lots", term.Said, StringComparison.Ordinal);
        Assert.Contains("acquire lot crossover 2417 2431 --data", term.Said, StringComparison.Ordinal);
    }

    /// <summary>
    /// The fogged strip and the two after the fixer splash had a second strip beside them; without them the developer ages as the story has
    /// it.
    /// </summary>
    [Fact]
    public async Task Life_of_the_class_developer_is_that_of_the_story_and_leaves_sudden_faults_out()
    {
        using var program = FilledTerm.Program(FilledTerm.Now);
        File.Copy(Path.Combine(term.Folder, "acquire.db"), Path.Combine(program.Folder, "acquire.db"));
        await using var store = await term.OpenAsync(Token);
        var history = (await StripHistory.LoadAsync(store, new HistoryFilter(StripFilter.All with { Line = "dip tank" }), Time, Token))!;
        var sudden = SuddenFaults.Of(history);
        var (code, text, error) = await program.RunAsync("life", "--line", "dip tank");

        Assert.True(code == 0, error);
        Assert.InRange(sudden.Count, 3, 6);
        Assert.All(
            history.Records.Where(r => sudden.Contains(r.Id)),
            r => Assert.True(r.Tags.Confirms is not null || history.Records.Any(o => o.Tags.Confirms == r.Id)));
        Assert.Equal(history.Strips.Length - sudden.Count, SuddenFaults.Ageing(history).Length);
        Assert.Matches("^(If it goes on like this, t|T)he developer lasts about [12][0-9] days with you .* until HD − LD", text);
        Assert.Contains($"{sudden.Count} strips left out: past a control limit", text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("--line", "dip tank")]
    [InlineData("--line", "bench-top machine")]
    [InlineData("--bottle", "T4")]
    public async Task Report_and_life_of_one_line_tell_of_its_own_bottles_only(string option, string name)
    {
        using var program = FilledTerm.Program(FilledTerm.Now);
        var page = Path.Combine(program.Folder, "page.html");
        File.Copy(Path.Combine(term.Folder, "acquire.db"), Path.Combine(program.Folder, "acquire.db"));
        var (code, _, error) = await program.RunAsync("report", option, name, "--force", "--out", page);
        Assert.True(code == 0, error);
        if (option == "--line")
        {
            var (own, other) = name == "dip tank" ? ("T4", "M4") : ("M4", "T4");
            var (_, life, _) = await program.RunAsync("life", option, name);
            Assert.Contains($"Bottle {own}", life, StringComparison.Ordinal);
            Assert.DoesNotContain($"Bottle {other}", life, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Term_has_some_fifty_strips_of_two_lots_and_lines_in_twelve_weeks_until_now()
    {
        Assert.InRange(term.Strips.Count, 45, 60);
        Assert.Equal(["2417", "2431"], term.Strips.Select(s => s.LotCode).Distinct());
        Assert.Equal(["dip tank", "bench-top machine"], term.Strips.Select(s => s.Tags.Line).Distinct());
        Assert.InRange((term.Strips[^1].Provenance.At - term.Strips[0].Provenance.At).TotalDays, 75, 90);
        Assert.InRange((FilledTerm.Now - term.Strips[^1].Provenance.At).TotalDays, 0, 6);
        Assert.All(term.Strips, s => Assert.All(s.Patches, p => Assert.Equal(3, p.Accepted.Count())));
    }

    /// <summary>
    /// The form of a line is as device-profiles/labelled-line.json describes it; it is read here without the program's reader.
    /// </summary>
    [Fact]
    public void Every_read_carries_the_line_that_gives_its_densities()
    {
        var reads = term.Strips.SelectMany(s => s.Patches).SelectMany(p => p.Reads).ToList();
        Assert.All(reads, r =>
        {
            var match = LabelledLine().Match(Assert.Single(r.Reading.Lines).Text);
            Assert.True(match.Success, r.Reading.Lines[0].Text);
            Assert.Equal(
                [r.Reading.Densities.Red!.Value.Value, r.Reading.Densities.Green!.Value.Value, r.Reading.Densities.Blue!.Value.Value],
                match.Groups.Values.Skip(1).Select(g => decimal.Parse(g.Value, CultureInfo.InvariantCulture)));
        });
    }

    [Fact]
    public async Task Fixer_in_the_developer_is_out_and_confirmed_and_a_new_mix_follows()
    {
        var (first, second) = Confirmed("racks were swapped");
        Assert.True(Is(first, "dmin", Channel.Blue, Zone.Out) && Is(second, "dmin", Channel.Blue, Zone.Out));
        Assert.Equal(SecondStripVerdict.Confirmed, SecondStrip.Of(first, second).Verdict);
        var next = term.Strips.First(s => s.Tags.Line == first.Tags.Line && s.Provenance.At > second.Provenance.At);
        Assert.NotEqual(first.Tags.Bottle, next.Tags.Bottle);
        Assert.False(Is(next, "dmin", Channel.Blue, Zone.Out));
        await using var store = await term.OpenAsync(Token);
        var books = await new DarkroomBooks(store, Time).OpenAsync(Token);
        Assert.NotNull(books.DiscardedAt(books.Bottles.Single(b => b.Name == first.Tags.Bottle)));
    }

    [Fact]
    public void Fogged_strip_is_out_and_its_second_is_in()
    {
        var (first, second) = Confirmed("D-min up in all colours");
        Assert.True(Is(first, "dmin", Channel.Red, Zone.Out));
        Assert.False(Is(second, "dmin", Channel.Red, Zone.Out));
        Assert.Equal(SecondStripVerdict.Fluke, SecondStrip.Of(first, second).Verdict);
    }

    [Fact]
    public void Silver_that_a_dying_bleach_left_goes_after_re_bleach()
    {
        var again = Assert.Single(term.Strips, s => s.Tags.Reread is not null);
        var first = term.Strips.Single(s => s.Id == again.Tags.Reread!.Of);
        Assert.Equal(Treatment.ReBleach, again.Tags.Reread!.After);
        Assert.InRange(Silver(again) - Silver(first), -0.25, -0.08);

        double Silver(StripRecord strip) => strip.Mean("dmax", Channel.Blue)!.Mean - strip.Mean("yellow", Channel.Blue)!.Mean;
    }

    [Fact]
    public async Task Crossover_has_three_pairs_and_was_accepted()
    {
        await using var store = await term.OpenAsync(Token);
        var lots = new LotBook(store, new ProcessLibrary(Path.Combine(term.Folder, "processes")), Time);
        var crossover = await new LotCrossover(store, lots, Time).CompareAsync("2417", "2431", [], Token);
        Assert.Equal(3, crossover.Pairs.Length);
        Assert.True(crossover is { IsEnough: true, Agrees: false }, crossover.Words());
        Assert.Equal(3, (await lots.GetAsync("2431", Token)).InForce.Adjustment!.Pairs.Length);
    }

    [Fact]
    public async Task Age_film_and_method_of_every_strip_are_known()
    {
        await using var store = await term.OpenAsync(Token);
        var history = (await StripHistory.LoadAsync(store, new HistoryFilter(StripFilter.All), Time, Token))!;
        Assert.Equal(term.Strips.Count - 1, history.Strips.Length);
        Assert.All(
            history.Strips,
            s => Assert.True(s is { AgeDays: >= 0, AreaPerLitre: >= 0, OpenDays: >= 0, Storage: not null, Method: not null }));
    }

    [Fact]
    public async Task Checks_lapse_once_and_fail_once_and_two_tests_pass()
    {
        await using var store = await term.OpenAsync(Token);
        var checks = await store.ListChecksAsync(Token);
        Assert.Single(checks, c => !c.Passed);
        Assert.True(checks[^1].IsInForceAt(FilledTerm.Now));
        var lacking = term.Strips.Where(s => s.CheckLacking is not null).ToList();
        Assert.InRange(lacking.Count, 3, 8);
        Assert.All(lacking, s => Assert.Null(s.CheckId));
        Assert.Equal([true, true], (await store.ListRepeatabilityTestsAsync(Token)).Select(t => t.Passed));
    }

    [Fact]
    public async Task Wrong_line_was_put_right_in_record_and_books_and_a_scratch_left_out()
    {
        await using var store = await term.OpenAsync(Token);
        var amended = Assert.Single(term.Strips, s => s.Revision.Number == 2);
        Assert.Contains(
            new FieldChange("line", "dip tank", "bench-top machine"),
            RevisionChanges.Between((await store.StripRevisionsAsync(amended.Id, Token))[0], amended));
        var books = await new DarkroomBooks(store, Time).OpenAsync(Token);
        Assert.Equal(
            "bench-top machine", books.Get<Domain.Books.ProcessLine>(books.Uses.Single(u => u.StripId == amended.Id).LineId!.Value).Name);
        var scratched = Assert.Single(term.Strips.SelectMany(s => s.Patches).SelectMany(p => p.Reads), r => !r.Counts);
        Assert.Contains("scratch", scratched.Exclusion!.Reason, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Strips_in_stock_are_those_that_came_less_those_that_went()
    {
        await using var store = await term.OpenAsync(Token);
        var books = await new DarkroomBooks(store, Time).OpenAsync(Token);
        Assert.All(["2417", "2431"], lot =>
        {
            var stock = books.StockAt(lot, FilledTerm.Now);
            Assert.Equal(term.Strips.Count(s => s.LotCode == lot && s.Tags.Reread is null), stock.Used);
            Assert.True(stock.Left > 0 && stock.Overdrawn == 0);
        });
    }

    /// <summary>
    /// Names of makers, products and people begin with a capital letter; the history's texts hold none but trade words, bottles and units.
    /// </summary>
    [Fact]
    public async Task Texts_name_nobody_and_call_nothing_safe()
    {
        await using var store = await term.OpenAsync(Token);
        var books = await new DarkroomBooks(store, Time).OpenAsync(Token);
        var plaque = Assert.Single(await store.ListPlaquesAsync(Token));
        var texts = term.Strips.SelectMany(s => new[] { s.Tags.Note, s.Tags.Handling, s.Tags.Line, s.Provenance.By, s.Revision.Reason })
            .Concat(books.Entered.SelectMany(e => new[] { EntryText.Of(books, e), e.Note, e.Stamp.By }))
            .Concat((await store.ListLotsAsync(Token)).SelectMany(l => new[] { l.Note, l.StorageRule }))
            .Append(plaque.Name).Append(plaque.Note)
            .OfType<string>().ToList();
        Assert.True(texts.Count > 300);
        Assert.DoesNotContain(texts.SelectMany(t => Capitals().Matches(t)).Select(m => m.Value), w => !Expected().IsMatch(w));
        Assert.DoesNotContain(texts, t => t.Contains("safe", StringComparison.OrdinalIgnoreCase));
    }

    /// <summary>The strip whose note begins so, and the one that was run to confirm it.</summary>
    private (StripRecord First, StripRecord Second) Confirmed(string note)
    {
        var first = term.Strips.Single(s => s.Tags.Confirms is null && s.Tags.Note?.StartsWith(note, StringComparison.Ordinal) == true);
        return (first, term.Strips.Single(s => s.Tags.Confirms == first.Id));
    }

    private static bool Is(StripRecord strip, string parameter, Channel channel, Zone zone) =>
        StripJudging.WithoutStore.Judge(strip).Results.Single(r => r.Parameter.Key == parameter && r.Channel == channel).Zone == zone;

    [GeneratedRegex(@"\p{Lu}\w*")]
    private static partial Regex Capitals();

    [GeneratedRegex("^(D|LD|HD|PET|L|C|[TM][BF]?[0-9])$")]
    private static partial Regex Expected();

    [GeneratedRegex(@"^R (-?\d\.\d\d) G (-?\d\.\d\d) B (-?\d\.\d\d)$")]
    private static partial Regex LabelledLine();
}
