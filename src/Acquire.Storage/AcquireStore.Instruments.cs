using Acquire.Storage.Records;

namespace Acquire.Storage;

public sealed partial class AcquireStore
{
    /// <summary>Adds an instrument, or a change of one: a new instrument has revision 1, a change the next.</summary>
    /// <exception cref="StoreException">There is an instrument of that name, in any case (<see cref="StoreFault.Duplicate"/>), or it is
    /// not the next revision (<see cref="StoreFault.Conflict"/>).</exception>
    public Task AddInstrumentAsync(Instrument instrument, CancellationToken cancellationToken) =>
        WriteAsync(db => InstrumentTables.Add(db, instrument), cancellationToken);

    /// <summary>Every instrument as it stands, retired ones too, by name.</summary>
    public Task<IReadOnlyList<Instrument>> ListInstrumentsAsync(CancellationToken cancellationToken) =>
        ReadAsync<IReadOnlyList<Instrument>>(InstrumentTables.List, cancellationToken);

    /// <summary>All revisions of the instrument of a name, in any case, oldest first; none where there is no such instrument.</summary>
    public Task<IReadOnlyList<Instrument>> InstrumentRevisionsAsync(string name, CancellationToken cancellationToken) =>
        ReadAsync<IReadOnlyList<Instrument>>(db => InstrumentTables.History(db, name), cancellationToken);

    /// <summary>What was read with each instrument that records name, the one used last first.</summary>
    public Task<IReadOnlyList<InstrumentUse>> ListInstrumentUsesAsync(CancellationToken cancellationToken) =>
        ReadAsync<IReadOnlyList<InstrumentUse>>(InstrumentTables.Uses, cancellationToken);
}
