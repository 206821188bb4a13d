namespace Acquire.Bench.Books;

/// <summary>What looks wrong about an entry. It is kept all the same, and the user is told.</summary>
internal sealed class BookWarnings(Ledger before, Ledger after, DateTimeOffset now, TimeZoneInfo zone)
{
    /// <summary>Strips left at which to order the next lot, so that old and new can still be run together (value from memory).</summary>
    private const int FewStrips = 6;

    private const double LeastVolume = 1e-9;

    private static readonly TimeSpan Tolerance = TimeSpan.FromMinutes(1);

    public IEnumerable<string> Of(BookEntry entry, StripLot? lot) =>
    [
        .. Times(entry),
        .. entry switch
        {
            FilmUse use => [.. use.BottleIds.SelectMany(b => Order(b, use, "use")), .. Twice(use), .. Processes(use)],
            BottleEvent e => [.. Order(e.BottleId, e, Noun(e.Kind)), .. Volumes(e), .. SameMoment(e), .. Later(e)],
            BookEvent { BottleId: { } bottle } e => Order(bottle, e, "event"),
            Bottle bottle => Filled(bottle),
            StockMove move => Stock(move, lot),
            _ => Enumerable.Empty<string>(),
        },
    ];

    /// <summary>The clock set back, or a time still to come.</summary>
    private IEnumerable<string> Times(BookEntry entry)
    {
        if (before.Entered.Length > 0 && before.Entered.Max(e => e.Stamp.EnteredAt) is var newest && newest > now + Tolerance)
        {
            yield return $"The clock reads {Moment(now)}, but an entry was made at {Moment(newest)}: "
                + $"was the clock set back? This entry is kept with {Moment(entry.HappenedAt)}. Set "
                + "the clock; where that time is wrong: acquire undo, then enter it again with --at.";
        }

        if (entry.HappenedAt > now + Tolerance)
        {
            yield return $"{Moment(entry.HappenedAt)} is still to come (it is {Moment(now)}); kept so, and it counts from then on. "
                + "If another day was meant: acquire undo, then enter it again, e.g. with --at \"yesterday 19:30\".";
        }
    }

    private IEnumerable<string> Order(Guid bottleId, BookEntry entry, string what)
    {
        var bottle = after.Get<Bottle>(bottleId);
        var mixed = after.SolutionIn(bottle).HappenedAt;
        if (mixed > entry.HappenedAt)
        {
            yield return $"Bottle {bottle.Name} was mixed on {Moment(mixed)}, after "
                + $"this {what} ({Moment(entry.HappenedAt)}). Kept; {IfWrong}";
        }
        else if (bottle.HappenedAt > entry.HappenedAt)
        {
            yield return $"Bottle {bottle.Name} was filled on {Moment(bottle.HappenedAt)}, after this {what} "
                + $"({Moment(entry.HappenedAt)}). Kept; {IfWrong}";
        }

        if (before.DiscardedAt(bottle) is { } discarded && discarded <= entry.HappenedAt)
        {
            yield return $"Bottle {bottle.Name} was discarded on {Moment(discarded)}, "
                + $"before this {what} ({Moment(entry.HappenedAt)}). Kept; {IfWrong}";
        }
    }

    private IEnumerable<string> Twice(FilmUse use)
    {
        if (before.Uses.FirstOrDefault(u => u.HappenedAt == use.HappenedAt && u.Films.SequenceEqual(use.Films)
            && u.LineId == use.LineId && u.BottleIds.SequenceEqual(use.BottleIds) && u.StripId == use.StripId) is { } twin)
        {
            yield return $"The same use of the same moment is in the books already, entered {Moment(twin.Stamp.EnteredAt)}. Both count; "
                + "if it was entered twice: acquire undo";
        }
    }

    private IEnumerable<string> SameMoment(BottleEvent entry)
    {
        if (before.Standing.OfType<BottleEvent>().FirstOrDefault(
            e => e.BottleId == entry.BottleId && e.HappenedAt == entry.HappenedAt) is { } twin)
        {
            yield return $"There is another entry of this bottle at the same moment: {EntryText.Of(before, twin)}. "
                + "Both are kept and count in the order of entry; if it was entered twice: acquire undo";
        }
    }

    private IEnumerable<string> Later(BottleEvent entry)
    {
        if (entry.Kind == BottleEventKind.Discarded
            && before.Dependents(entry.BottleId).LastOrDefault(e => e.HappenedAt > entry.HappenedAt) is { } later)
        {
            yield return $"There are entries of this bottle after it was discarded, the last on {Moment(later.HappenedAt)}: "
                + $"{EntryText.Of(before, later)}. Kept; {IfWrong}";
        }
    }

    private IEnumerable<string> Processes(FilmUse use)
    {
        if (use.LineId is { } id && after.Get<ProcessLine>(id) is var line)
        {
            foreach (var bottle in use.BottleIds.Select(after.Get<Bottle>))
            {
                var key = after.SolutionIn(bottle).ProcessKey;
                if (!BookNames.Same(key, line.ProcessKey))
                {
                    yield return $"Bottle {bottle.Name} is for {key}, line {line.Name} for {line.ProcessKey}. Kept; {IfWrong}";
                }
            }
        }
    }

    private IEnumerable<string> Volumes(BottleEvent entry)
    {
        var bottle = after.Get<Bottle>(entry.BottleId);
        var (was, state) = (before.At(bottle, DateTimeOffset.MaxValue), after.At(bottle, DateTimeOffset.MaxValue));

        // Only what this entry adds is told: an old shortage would be said again at every use of the bottle.
        if (state.Overdrawn > was.Overdrawn + LeastVolume)
        {
            yield return $"By the books {EntryText.Litres(state.Overdrawn)} more was "
                + $"poured from bottle {bottle.Name} than was in it. Kept; {IfWrong}";
        }

        if (entry.Kind == BottleEventKind.ToppedUp && after.At(bottle, entry.HappenedAt) is { Storage.Capacity: { } capacity } full
            && full.Left > capacity + LeastVolume)
        {
            yield return $"Bottle {bottle.Name} holds {EntryText.Litres(capacity)}, and by "
                + $"the books {EntryText.Litres(full.Left)} is in it now. Kept; {IfWrong}";
        }
    }

    private IEnumerable<string> Filled(Bottle bottle)
    {
        var mix = after.SolutionIn(bottle);
        if (mix.HappenedAt > bottle.HappenedAt)
        {
            yield return $"{mix.Name} was mixed on {Moment(mix.HappenedAt)}, after this bottle was filled "
                + $"({Moment(bottle.HappenedAt)}). Kept; {IfWrong}";
        }

        var filled = after.Bottles.Where(b => b.SolutionId == mix.Id).Sum(b => b.Volume);
        if (filled > mix.Volume + LeastVolume)
        {
            yield return $"{EntryText.Litres(mix.Volume)} of {mix.Name} was mixed, and "
                + $"{EntryText.Litres(filled)} is in bottles by the books. Kept; {IfWrong}";
        }

        if (bottle.Storage.Capacity is { } capacity && bottle.Volume > capacity + LeastVolume)
        {
            yield return $"{EntryText.Litres(bottle.Volume)} does not go into a "
                + $"bottle that holds {EntryText.Litres(capacity)}. Kept; {IfWrong}";
        }
    }

    private IEnumerable<string> Stock(StockMove move, StripLot? lot)
    {
        var day = DateOnly.FromDateTime(TimeZoneInfo.ConvertTime(move.HappenedAt, zone).DateTime);
        if (lot is not null && lot.IsExpiredOn(day))
        {
            yield return $"Lot {lot.Code} expired on {Numbers.Day(lot.Expires)}: "
                + "old strips read high in D-min and low in LD.";
        }

        var (was, state) = (before.StockAt(move.LotCode, DateTimeOffset.MaxValue), after.StockAt(move.LotCode, DateTimeOffset.MaxValue));
        if (state.Overdrawn > was.Overdrawn)
        {
            yield return $"By the books {state.Overdrawn} more of lot {move.LotCode} went than was counted "
                + $"in. Kept; count the box and add what is missing: acquire lot stock {move.LotCode} add N";
        }
        else if (move.Kind is StockMoveKind.Used or StockMoveKind.Spoiled && state.Left <= FewStrips)
        {
            yield return $"{Numbers.Count(state.Left, "strip")} of lot {move.LotCode} left: time for the next lot, "
                + "so that old and new can be run together.";
        }

        if (move.Kind == StockMoveKind.Returned && before.StockAt(move.LotCode, move.HappenedAt).Out < move.Strips)
        {
            yield return $"By the books only {before.StockAt(move.LotCode, move.HappenedAt).Out} "
                + $"of lot {move.LotCode} was out. Kept; {IfWrong}";
        }
    }

    private const string IfWrong = "if it is wrong: acquire undo";

    private static string Noun(BottleEventKind kind) => kind switch
    {
        BottleEventKind.Opened => "opening",
        BottleEventKind.ToppedUp => "topping up",
        BottleEventKind.Poured => "pouring",
        BottleEventKind.StoredAnew => "storing",
        _ => "discarding",
    };

    private string Moment(DateTimeOffset at) => Numbers.Moment(TimeZoneInfo.ConvertTime(at, zone));
}
