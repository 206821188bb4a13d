using Acquire.Bench.Instruments;
using Acquire.Bench.Readings;
using Acquire.Bench.Tests.Books;

namespace Acquire.Bench.Tests.Readings;

public sealed class StripQuestionsTests : IDisposable
{
    private readonly StudyStore _study = new();
    private readonly List<string> _told = [];

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public void Dispose() => _study.Dispose();

    [Fact]
    public async Task In_an_empty_house_nothing_is_asked_that_nobody_could_answer()
    {
        await using var store = await _study.OpenAsync([]);

        Assert.Null(await NextAsync(store, new StripAsked(new StripRequest(), new InstrumentChoice())));
    }

    [Fact]
    public async Task Lot_of_the_newest_strip_then_its_line_and_bottle_are_what_Enter_takes()
    {
        await using var store = await _study.OpenAsync([Strip(1, "machine", "B4"), Strip(2, "dip tank", "D7")]);
        var asked = new StripAsked(new StripRequest(), new InstrumentChoice());

        var said = new List<string>();
        while (await NextAsync(store, asked) is { } question)
        {
            said.Add($"{question.Kind} {question.Usual}");
            asked = asked.With(question, "");
        }

        Assert.Equal(["Lot 2417", "Line dip tank", "Bottle D7"], said);
        Assert.Equal(
            ("2417", "dip tank", "D7"), (asked.Request.Lot, asked.Request.Tags.Line, asked.Request.Tags.Bottle));
    }

    [Fact]
    public async Task What_is_said_is_not_asked_and_none_is_an_answer()
    {
        await using var store = await _study.OpenAsync([Strip(1, "dip tank", "D7")]);
        var asked = new StripAsked(
            new StripRequest { Lot = "2417", Tags = new StripTags { Line = "machine" } }, new InstrumentChoice());

        var question = (await NextAsync(store, asked))!;
        var answered = asked.With(question, StripQuestions.None);

        Assert.Equal(StripQuestionKind.Bottle, question.Kind);
        Assert.True(answered.Request.WithoutBottle);
        Assert.Null(await NextAsync(store, answered));
    }

    [Fact]
    public async Task Instrument_is_asked_where_two_are_in_use_with_the_one_that_read_last()
    {
        await using var store = await _study.OpenAsync([Strip(1, "dip tank", "D7", "spare"), Strip(2, "dip tank", "D7", "bench")]);
        foreach (var name in (string[])["bench", "spare", "zeta"])
        {
            await store.AddInstrumentAsync(new Instrument(name, "labelled-line", Revision.First("staff", Some.Moment, "added")), Token);
        }

        var question = (await NextAsync(store, new StripAsked(new StripRequest(), new InstrumentChoice())))!;

        Assert.Equal((StripQuestionKind.Instrument, "bench"), (question.Kind, question.Usual));
        Assert.Equal(["bench", "spare", "zeta"], question.Known);
        Assert.NotEqual(
            StripQuestionKind.Instrument,
            (await NextAsync(store, new StripAsked(new StripRequest(), new InstrumentChoice("spare"))))?.Kind);
    }

    [Fact]
    public async Task Second_strip_is_of_the_lot_and_place_of_the_first_so_neither_is_asked()
    {
        var first = Strip(1, "dip tank", "D7");
        await using var store = await _study.OpenAsync([first]);

        Assert.Null(await NextAsync(
            store, new StripAsked(new StripRequest { Tags = new StripTags { Confirms = first.Id } }, new InstrumentChoice())));
    }

    [Fact]
    public async Task Without_anybody_to_answer_the_lot_used_last_is_taken_and_said_and_the_place_is_left_to_the_reading()
    {
        await using var store = await _study.OpenAsync([Strip(1, "dip tank", "D7")]);

        var asked = await new StripQuestions(store, _study.Time)
            .TakeUsualAsync(new StripAsked(new StripRequest(), new InstrumentChoice()), _told.Add, Token);

        Assert.Equal(("2417", null, null), (asked.Request.Lot, asked.Request.Tags.Line, asked.Request.Tags.Bottle));
        Assert.StartsWith("Taken, since none was named: lot 2417.", Assert.Single(_told), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Question_without_a_usual_answer_needs_one()
    {
        await using var store = await _study.OpenAsync([]);
        await store.AddLotAsync(new StripLot("2301", "c41", StudyStore.C41.Layout), Token);
        await store.AddLotAsync(new StripLot("2302", "c41", StudyStore.C41.Layout), Token);
        var asked = new StripAsked(new StripRequest(), new InstrumentChoice());
        var question = (await NextAsync(store, asked))!;

        Assert.Throws<BenchException>(() => asked.With(question, " "));
        Assert.Equal("2302", asked.With(question, "2302").Request.Lot);
    }

    /// <summary>Books go before the newest strip: they know what has gone since.</summary>
    [Fact]
    public async Task Bottles_that_are_kept_in_the_books_are_those_in_use()
    {
        await using var store = await _study.OpenAsync([Strip(1, "dip tank", "gone")]);
        await store.AddBookEntriesAsync(SomeBooks.Books().Standing, Token);
        var asked = new StripAsked(
            new StripRequest { Lot = "2417", Tags = new StripTags { Line = "dip tank" }, RanAt = SomeBooks.At(13) },
            new InstrumentChoice());

        var question = (await NextAsync(store, asked))!;

        Assert.Equal(StripQuestionKind.Bottle, question.Kind);
        Assert.DoesNotContain("gone", question.Known);
        Assert.NotEmpty(question.Known);
    }

    private static StripRecord Strip(double day, string line, string bottle, string instrument = "bench")
    {
        var strip = StudyStore.Strip(day, 0);
        return strip with
        {
            Tags = new StripTags { Line = line, Bottle = bottle },
            Provenance = strip.Provenance with
            {
                Instrument = new InstrumentInUse("labelled-line", "h", "/dev/ttyUSB0") { Name = instrument },
            },
        };
    }

    private Task<OpenQuestion?> NextAsync(AcquireStore store, StripAsked asked) =>
        new StripQuestions(store, _study.Time).NextAsync(asked, Token);
}
