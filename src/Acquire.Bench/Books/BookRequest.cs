namespace Acquire.Bench.Books;

/// <summary>Something to enter in the books. What it names is looked up in the books as they are when it is entered.</summary>
public abstract record BookRequest
{
    /// <summary>Makes the entries; runs in the transaction that writes them, so it may decide by the books that it sees.</summary>
    /// <exception cref="BenchException">A name is unknown, or what is needed is not named.</exception>
    /// <exception cref="Domain.ImpossibleValueException">A value cannot be.</exception>
    internal abstract IEnumerable<BookEntry> Make(BookDraft draft);
}

/// <summary>What is meant in the books at a moment: what is named, or else what is at hand, which is told.</summary>
internal class BookChoice(Ledger books, DateTimeOffset at)
{
    private readonly List<string> _taken = [];

    public Ledger Books { get; } = books;

    public DateTimeOffset At { get; } = at;

    public ImmutableArray<string> Taken => [.. _taken];

    /// <summary>Tells what was taken, since nothing was named.</summary>
    public void Take(string what) => Tell($"Taken, since none was named: {what}.");

    public void Tell(string sentence) => _taken.Add(sentence);

    /// <summary>The line that is named, or else the one that was used last.</summary>
    /// <exception cref="BenchException">There is none such, or none is clear.</exception>
    public ProcessLine Line(string? name)
    {
        if (name is not null)
        {
            return BookNames.Line(Books, name);
        }

        var line = LastUsed.Of(Books, At).Line ?? throw new BenchException(
            $"Which line? {BookNames.InUse(Books.Lines.Select(l => l.Name), "acquire line add NAME --process c41")}");
        Take($"line {line.Name}");
        return line;
    }

    /// <summary>The bottle that is named, or else the one at hand.</summary>
    /// <exception cref="BenchException">There is none such, or none is clear.</exception>
    public Bottle Bottle(string? name)
    {
        if (name is not null)
        {
            return BookNames.Bottle(Books, name, At);
        }

        var bottle = LastUsed.AtHand(Books, At) ?? throw new BenchException(
            $"Which bottle? {BookNames.InUse(Books.BottlesInUse(At).Select(b => b.Name), "acquire bottle fill NAME")}");
        Take($"bottle {bottle.Name}");
        return bottle;
    }
}

/// <summary>The same in the transaction that makes entries, with what an entry is made of.</summary>
internal sealed class BookDraft(
    Ledger books, DateTimeOffset at, Func<EntryStamp> stamp, Func<string, StripLot?> findLot, TimeProvider time) : BookChoice(books, at)
{
    public TimeProvider Time { get; } = time;

    public EntryStamp Stamp() => stamp();

    public StripLot? FindLot(string code) => findLot(code);
}
