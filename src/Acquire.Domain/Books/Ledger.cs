using System.Collections.Frozen;

namespace Acquire.Domain.Books;

/// <summary>The books as a whole. Every state is computed from the entries that stand, in the order of what happened, so that an entry
/// dated back counts where it belongs; two of the same moment count in the order of entry.</summary>
public sealed class Ledger
{
    private readonly FrozenDictionary<Guid, BookEntry> _byId;

    /// <param name="entered">Every entry, in the order of entry.</param>
    public Ledger(IEnumerable<BookEntry> entered)
    {
        Entered = [.. entered];
        var withdrawn = Entered.OfType<Withdrawal>().Select(w => w.WithdrawnId).ToHashSet();
        // The sort is stable, so that entries of the same moment stay in the order of entry.
        Standing = [.. Entered.Where(e => e is not Withdrawal && !withdrawn.Contains(e.Id)).OrderBy(e => e.HappenedAt)];
        // All that were ever entered: an entry that was withdrawn is still referred to by others, and by its withdrawal.
        _byId = Entered.ToFrozenDictionary(e => e.Id);
    }

    /// <summary>Every entry, withdrawals and what they took back too, in the order of entry.</summary>
    public ImmutableArray<BookEntry> Entered { get; }

    /// <summary>The entries that count, in the order of what happened.</summary>
    public ImmutableArray<BookEntry> Standing { get; }

    public IEnumerable<ProcessLine> Lines => Standing.OfType<ProcessLine>();

    public IEnumerable<Solution> Solutions => Standing.OfType<Solution>();

    /// <summary>The bottles, those out of use too.</summary>
    public IEnumerable<Bottle> Bottles => Standing.OfType<Bottle>();

    public IEnumerable<FilmUse> Uses => Standing.OfType<FilmUse>();

    public IEnumerable<BookEvent> Events => Standing.OfType<BookEvent>();

    /// <summary>The lots whose strips are counted.</summary>
    public IEnumerable<string> StockedLots =>
        Standing.OfType<StockMove>().Select(m => m.LotCode).Distinct(StringComparer.OrdinalIgnoreCase);

    /// <summary>An entry that another refers to.</summary>
    /// <exception cref="KeyNotFoundException">It is not in the books.</exception>
    public T Get<T>(Guid id) where T : BookEntry => (T)_byId[id];

    public Solution SolutionIn(Bottle bottle) => Get<Solution>(bottle.SolutionId);

    /// <summary>A bottle as it was at a moment.</summary>
    /// <param name="at">The moment; what happened then counts.</param>
    /// <param name="exceptStrip">A control strip whose own area is not counted: what it met, not what it left behind.</param>
    // Computed at each call. The books of years are a few thousand entries, and a stored state would have to be put right by hand.
    public BottleState At(Bottle bottle, DateTimeOffset at, Guid? exceptStrip = null) => BottleState.Of(
        bottle, SolutionIn(bottle), Until(at).Where(e => exceptStrip is null || e is not FilmUse use || use.StripId != exceptStrip), at);

    public LineState At(ProcessLine line, DateTimeOffset at) => LineState.Of(line, Until(at));

    /// <summary>The strips of a lot as they were at a moment.</summary>
    public StockState StockAt(string lotCode, DateTimeOffset at) => StockState.Of(lotCode, Until(at));

    /// <summary>When a bottle went out of use; null while it is in use.</summary>
    public DateTimeOffset? DiscardedAt(Bottle bottle) => Standing.OfType<BottleEvent>()
        .FirstOrDefault(e => e.BottleId == bottle.Id && e.Kind == BottleEventKind.Discarded)?.HappenedAt;

    /// <summary>The bottles that were filled and not yet discarded at a moment.</summary>
    public IEnumerable<Bottle> BottlesInUse(DateTimeOffset at) => Bottles.Where(b => b.HappenedAt <= at && !(DiscardedAt(b) <= at));

    /// <summary>The entries that stand and refer to one.</summary>
    public IEnumerable<BookEntry> Dependents(Guid id) => Standing.Where(e => e.RefersTo.Contains(id));

    // By when it happened, not by when it was entered: what is dated back to Tuesday was so on Wednesday, whoever asks.
    private IEnumerable<BookEntry> Until(DateTimeOffset at) => Standing.TakeWhile(e => e.HappenedAt <= at);
}
