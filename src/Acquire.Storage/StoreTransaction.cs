using Acquire.Storage.Records;

namespace Acquire.Storage;

/// <summary>
/// One transaction of a caller's that writes. What is read in it still stands when it is written, since no other program can write in
/// between: a decision that rests on what is stored is made in here. All is kept or, when anything is thrown, nothing.
/// </summary>
/// <remarks>Every member throws <see cref="StoreException"/> as its namesake in <see cref="AcquireStore"/> does.</remarks>
public sealed class StoreTransaction
{
    private readonly Db _db;
    private readonly string _file;
    private readonly DateTimeOffset _now;

    internal StoreTransaction(Db db, string file, DateTimeOffset now) => (_db, _file, _now) = (db, file, now);

    /// <summary>Every entry in the books, withdrawn ones too, in the order of entry.</summary>
    public IReadOnlyList<BookEntry> ListBookEntries() => Do(EntryLoader.Load);

    public StripLot? FindLot(string code) => Do(db => LotTables.Find(db, code));

    public LotReference? CurrentReference(string lotCode) => Do(db => ReferenceTables.Current(db, lotCode));

    public IReadOnlyList<AimAdjustment> ListAdjustments(string lotCode) => Do(db => AdjustmentTables.List(db, lotCode));

    public StripRecord? FindStrip(string idOrPart) =>
        Do(db => StripQueries.Find(db, idOrPart) is { } revision ? new StripLoader().Load(db, [revision])[0] : null);

    /// <summary>The instrument of a name, in any case, as it stands; null when there is none.</summary>
    public Instrument? FindInstrument(string name) => Do(db => InstrumentTables.History(db, name).LastOrDefault());

    public IReadOnlyList<Instrument> ListInstruments() => Do(InstrumentTables.List);

    public void AddInstrument(Instrument instrument) => Do(db => InstrumentTables.Add(db, instrument));

    public void AddBookEntries(IEnumerable<BookEntry> entries)
    {
        foreach (var entry in entries)
        {
            Do(db => EntryWriter.Add(db, entry));
        }
    }

    public void AddStrip(StripRecord strip) => Do(db => StripWriter.Add(db, strip, _now));

    public void AddReference(LotReference reference) => Do(db => ReferenceTables.Add(db, reference, _now));

    public void AddAdjustment(AimAdjustment adjustment) => Do(db => AdjustmentTables.Add(db, adjustment, _now));

    public void AddCheck(CalibrationCheck check) => Do(db => CheckTables.Add(db, check, _now));

    public void AddRepeatabilityTest(RepeatabilityTest test) => Do(db => RepeatabilityTables.Add(db, test, _now));

    public void AddRecheck(ReferenceRecheck recheck) => Do(db => RecheckTables.Add(db, recheck, _now));

    /// <inheritdoc cref="AcquireStore.BeginSessionAsync"/>
    public void BeginSession(BenchSession session, SessionPlan plan) => Do(db => SessionTables.Begin(db, session, plan));

    /// <inheritdoc cref="AcquireStore.AppendAsync"/>
    public void Append(Guid sessionId, IReadOnlyList<JournalEntry> entries, IReadOnlyList<ReceivedLine> lines) =>
        Do(db => EntryTable.Append(db, sessionId, entries, lines));

    /// <summary>Says that a loose reading is in a session now; it can be in one only.</summary>
    public void TakeLoose(LooseId loose, Guid sessionId) => Do(db => ListeningTables.Take(db, loose, sessionId));

    /// <summary>Says that a service leads a session, and goes on with it when it is started again.</summary>
    /// <param name="keepAfter">How long a step may be taken back when all is read; null where nobody could.</param>
    public void LeadSession(Guid sessionId, TimeSpan? keepAfter) => Do(db => ListeningTables.Lead(db, sessionId, keepAfter));

    /// <summary>Writes down how a session ended. The same end again changes nothing.</summary>
    public void EndSession(Guid sessionId, SessionEnd end) => Do(db => SessionTables.End(db, sessionId, end));

    private void Do(Action<Db> work) => Do(db =>
    {
        work(db);
        return true;
    });

    /// <summary>A fault of the store is named here, so that whatever else a caller's decision throws is known to be its own.</summary>
    private T Do<T>(Func<Db, T> work)
    {
        try
        {
            return work(_db);
        }
        catch (Exception e)
        {
            throw StoreFaults.Translate(e, _file);
        }
    }
}
