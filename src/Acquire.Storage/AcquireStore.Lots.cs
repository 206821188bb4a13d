using Acquire.Storage.Records;

namespace Acquire.Storage;

public sealed partial class AcquireStore
{
    /// <exception cref="StoreException">There is a lot of that code number, in any case (<see cref="StoreFault.Duplicate"/>).</exception>
    public Task AddLotAsync(StripLot lot, CancellationToken cancellationToken) =>
        WriteAsync(db => LotTables.Add(db, lot, _time.GetUtcNow()), cancellationToken);

    /// <summary>The lot of a code number, in any case; null when there is none.</summary>
    public Task<StripLot?> FindLotAsync(string code, CancellationToken cancellationToken) =>
        ReadAsync(db => LotTables.Find(db, code), cancellationToken);

    /// <summary>All lots, in the order in which they were added.</summary>
    public Task<IReadOnlyList<StripLot>> ListLotsAsync(CancellationToken cancellationToken) =>
        ReadAsync<IReadOnlyList<StripLot>>(LotTables.List, cancellationToken);

    /// <summary>
    /// Adds a reading of a lot's reference strip, or a correction of one; it is in force from then on. A new reading has a new id and
    /// revision 1, a correction the same id and the next revision.
    /// </summary>
    /// <exception cref="StoreException">No such lot or session (<see cref="StoreFault.NotFound"/>), or not the next revision
    /// (<see cref="StoreFault.Conflict"/>).</exception>
    public Task AddReferenceAsync(LotReference reference, CancellationToken cancellationToken) =>
        WriteAsync(db => ReferenceTables.Add(db, reference, _time.GetUtcNow()), cancellationToken);

    /// <summary>The reference reading in force, the one added last; null when the lot has none.</summary>
    public Task<LotReference?> CurrentReferenceAsync(string lotCode, CancellationToken cancellationToken) =>
        ReadAsync(db => ReferenceTables.Current(db, lotCode), cancellationToken);

    /// <summary>All reference readings of a lot and all their revisions, in the order in which they were added.</summary>
    public Task<IReadOnlyList<LotReference>> ListReferencesAsync(string lotCode, CancellationToken cancellationToken) =>
        ReadAsync<IReadOnlyList<LotReference>>(db => ReferenceTables.List(db, lotCode), cancellationToken);

    /// <summary>Keeps a crossover that the user accepted; the aims of the lot are adjusted by it from then on.</summary>
    /// <exception cref="StoreException">
    /// No such lot or strip (<see cref="StoreFault.NotFound"/>), or the reference it adjusts is not in force
    /// (<see cref="StoreFault.Conflict"/>).
    /// </exception>
    public Task AddAdjustmentAsync(AimAdjustment adjustment, CancellationToken cancellationToken) =>
        WriteAsync(db => AdjustmentTables.Add(db, adjustment, _time.GetUtcNow()), cancellationToken);

    /// <summary>All accepted crossovers to a lot, in the order in which they were accepted.</summary>
    public Task<IReadOnlyList<AimAdjustment>> ListAdjustmentsAsync(string lotCode, CancellationToken cancellationToken) =>
        ReadAsync<IReadOnlyList<AimAdjustment>>(db => AdjustmentTables.List(db, lotCode), cancellationToken);
}
