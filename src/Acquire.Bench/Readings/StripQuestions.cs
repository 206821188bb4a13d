using Acquire.Bench.Books;
using Acquire.Bench.Instruments;
using Acquire.Storage.Records;

namespace Acquire.Bench.Readings;

/// <summary>A question that must be answered before a strip is read.</summary>
/// <param name="Text">The question, as a person is asked.</param>
/// <param name="Usual">What was used last: the answer where nothing is said; null where there is none.</param>
/// <param name="Known">What could be answered, as far as it is known.</param>
/// <param name="MayBeNone">Whether <see cref="StripQuestions.None"/> is an answer.</param>
public sealed record OpenQuestion(StripQuestionKind Kind, string Text, string? Usual, ImmutableArray<string> Known, bool MayBeNone);

/// <summary>What is asked before a strip is read, in this order.</summary>
public enum StripQuestionKind
{
    Instrument,
    Lot,
    Line,

    /// <summary>The bottle of developer.</summary>
    Bottle,
}

/// <summary>What is said so far of a strip that is to be read, and with what.</summary>
/// <param name="Answered">What was asked and answered, also by none.</param>
public sealed record StripAsked(StripRequest Request, InstrumentChoice Instrument, ImmutableHashSet<StripQuestionKind> Answered)
{
    public StripAsked(StripRequest request, InstrumentChoice instrument)
        : this(request, instrument, [])
    {
    }

    /// <summary>The same with an answer.</summary>
    /// <param name="answer">The answer; empty for the usual one, <see cref="StripQuestions.None"/> for none.</param>
    /// <exception cref="BenchException">The question needs an answer.</exception>
    public StripAsked With(OpenQuestion question, string answer)
    {
        var said = answer.Trim() is { Length: > 0 } given ? given : question.Usual;
        var none = question.MayBeNone && said is null or StripQuestions.None;
        if (said is null && !none)
        {
            throw new BenchException($"{question.Text}? Nothing was used before, so it must be said.");
        }

        var next = this with { Answered = Answered.Add(question.Kind) };
        return question.Kind switch
        {
            StripQuestionKind.Instrument => next with { Instrument = Instrument with { Name = said } },
            StripQuestionKind.Lot => next with { Request = Request with { Lot = said } },
            StripQuestionKind.Line when none => next with { Request = Request with { WithoutLine = true } },
            StripQuestionKind.Line => next with { Request = Request with { Tags = Request.Tags with { Line = said } } },
            _ when none => next with { Request = Request with { WithoutBottle = true } },
            _ => next with { Request = Request with { Tags = Request.Tags with { Bottle = said } } },
        };
    }
}

/// <summary>
/// Which questions are open before a strip can be read, one at a time, since each answer narrows the next. A terminal and a page ask them
/// alike; where nobody can answer, what was used last is taken and said.
/// </summary>
/// <remarks>Every member throws <see cref="StoreException"/> when the store cannot be read.</remarks>
public sealed class StripQuestions(AcquireStore store, TimeProvider time)
{
    /// <summary>The answer that says: none of them.</summary>
    public const string None = "-";

    private readonly DarkroomBooks _books = new(store, time);

    /// <summary>The next question; null when nothing is open.</summary>
    public async Task<OpenQuestion?> NextAsync(StripAsked asked, CancellationToken cancellationToken) =>
        await InstrumentAsync(asked, cancellationToken)
        ?? await LotAsync(asked, cancellationToken)
        ?? (IsTied(asked.Request) ? null : await PlaceAsync(asked, cancellationToken));

    /// <summary>
    /// Answers what is open with what was used last, and tells. Line and bottle are left to the reading, which takes them only where they
    /// cannot be mistaken.
    /// </summary>
    public async Task<StripAsked> TakeUsualAsync(StripAsked asked, Action<string> tell, CancellationToken cancellationToken)
    {
        var taken = new List<string>();
        while (await NextAsync(asked, cancellationToken)
            is { Kind: StripQuestionKind.Instrument or StripQuestionKind.Lot, Usual: { } usual } question)
        {
            taken.Add($"{question.Kind.ToString().ToLowerInvariant()} {usual}");
            asked = asked.With(question, "");
        }

        if (taken.Count > 0)
        {
            tell($"Taken, since none was named: {string.Join(", ", taken)}. Name others with --instrument and --lot.");
        }

        return asked;
    }

    private async Task<OpenQuestion?> InstrumentAsync(StripAsked asked, CancellationToken cancellationToken)
    {
        if (asked.Instrument is not { Name: null, Port: null, Profile: null })
        {
            return null;
        }

        var inUse = (await store.ListInstrumentsAsync(cancellationToken)).Where(i => i.RetiredAt is null).Select(i => i.Name).ToList();
        if (inUse.Count < 2)
        {
            return null;
        }

        var last = (await store.ListInstrumentUsesAsync(cancellationToken))
            .Select(u => inUse.Find(name => Keys.Same(name, u.Name))).FirstOrDefault(name => name is not null);
        return new OpenQuestion(StripQuestionKind.Instrument, "Instrument", last, [.. inUse], MayBeNone: false);
    }

    private async Task<OpenQuestion?> LotAsync(StripAsked asked, CancellationToken cancellationToken)
    {
        if (asked.Request.Lot is not null || IsTied(asked.Request))
        {
            return null;
        }

        var known = (await store.ListLotsAsync(cancellationToken)).Select(l => l.Code).ToImmutableArray();
        return known.IsEmpty
            ? null
            : new OpenQuestion(
                StripQuestionKind.Lot,
                "Lot",
                (await NewestAsync(cancellationToken))?.LotCode ?? (known is [var only] ? only : null),
                known,
                MayBeNone: false);
    }

    private async Task<OpenQuestion?> PlaceAsync(StripAsked asked, CancellationToken cancellationToken)
    {
        if (asked.Request.Lot is not { } code || await store.FindLotAsync(code, cancellationToken) is not { } lot)
        {
            return null;
        }

        var books = await _books.OpenAsync(cancellationToken);
        var at = asked.Request.RanAt ?? time.GetUtcNow();
        var last = LastUsed.Of(books, at, lot.ProcessKey);
        var newest = await NewestAsync(cancellationToken) is { } strip && Keys.Same(strip.JudgedBy.Key, lot.ProcessKey) ? strip.Tags : null;
        if (asked.Request.Tags.Line is null && !asked.Answered.Contains(StripQuestionKind.Line))
        {
            // The name in the newest strip's record counts where the books are not kept.
            var lines = books.Lines.Where(l => Keys.Same(l.ProcessKey, lot.ProcessKey)).Select(l => l.Name).DefaultIfEmpty(newest?.Line)
                .OfType<string>().ToImmutableArray();
            if (!lines.IsEmpty)
            {
                return new OpenQuestion(
                    StripQuestionKind.Line, "Line", last.Line?.Name ?? Among(lines, newest?.Line), lines, MayBeNone: true);
            }
        }

        if (asked.Request.Tags.Bottle is null && !asked.Answered.Contains(StripQuestionKind.Bottle))
        {
            var bottles = books.BottlesInUse(at).Where(b => IsDeveloper(b) && Keys.Same(books.SolutionIn(b).ProcessKey, lot.ProcessKey))
                .Select(b => b.Name).DefaultIfEmpty(books.Bottles.Any() ? null : newest?.Bottle).OfType<string>().ToImmutableArray();
            if (!bottles.IsEmpty)
            {
                return new OpenQuestion(
                    StripQuestionKind.Bottle,
                    "Bottle of developer",
                    last.Bottles.Where(IsDeveloper).ToList() is [var only] ? only.Name : Among(bottles, newest?.Bottle),
                    bottles,
                    MayBeNone: true);
            }
        }

        return null;

        bool IsDeveloper(Bottle bottle) => books.SolutionIn(bottle).IsDeveloper;
    }

    private async Task<StripRecord?> NewestAsync(CancellationToken cancellationToken) =>
        await store.ListStripsAsync(StripFilter.All with { Last = 1 }, cancellationToken).FirstOrDefaultAsync(cancellationToken);

    private static string? Among(ImmutableArray<string> names, string? name) => names.FirstOrDefault(n => Keys.Same(n, name));

    /// <summary>A second strip and one that is read again ran where the other did.</summary>
    private static bool IsTied(StripRequest request) => request.Tags is not { Confirms: null, Reread: null };
}
