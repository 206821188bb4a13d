using Acquire.Storage.Records;

namespace Acquire.Storage;

public sealed partial class AcquireStore
{
    /// <exception cref="StoreException">There is a plaque of that name, in any case (<see cref="StoreFault.Duplicate"/>).</exception>
    public Task AddPlaqueAsync(Plaque plaque, CancellationToken cancellationToken) =>
        WriteAsync(db => PlaqueTables.Add(db, plaque, _time.GetUtcNow()), cancellationToken);

    /// <summary>The plaque of a name, in any case; null when there is none.</summary>
    public Task<Plaque?> FindPlaqueAsync(string name, CancellationToken cancellationToken) =>
        ReadAsync(db => PlaqueTables.Find(db, name), cancellationToken);

    /// <summary>All plaques, in the order in which they were added.</summary>
    public Task<IReadOnlyList<Plaque>> ListPlaquesAsync(CancellationToken cancellationToken) =>
        ReadAsync<IReadOnlyList<Plaque>>(PlaqueTables.List, cancellationToken);

    /// <exception cref="StoreException">
    /// It is there already (<see cref="StoreFault.Duplicate"/>), or there is no such plaque or session (<see cref="StoreFault.NotFound"/>).
    /// </exception>
    public Task AddCheckAsync(CalibrationCheck check, CancellationToken cancellationToken) =>
        WriteAsync(db => CheckTables.Add(db, check, _time.GetUtcNow()), cancellationToken);

    /// <summary>All calibration checks, in the order of reading.</summary>
    public Task<IReadOnlyList<CalibrationCheck>> ListChecksAsync(CancellationToken cancellationToken) =>
        ReadAsync<IReadOnlyList<CalibrationCheck>>(CheckTables.List, cancellationToken);

    /// <summary>
    /// The calibration check that was read last until a moment with an instrument or with one that nobody named, passed or not; null when
    /// there is none.
    /// </summary>
    public Task<CalibrationCheck?> LastCheckAsync(string instrument, DateTimeOffset until, CancellationToken cancellationToken) =>
        ReadAsync(db => CheckTables.Last(db, instrument, until), cancellationToken);

    /// <exception cref="StoreException">
    /// It is there already (<see cref="StoreFault.Duplicate"/>), or there is no such session (<see cref="StoreFault.NotFound"/>).
    /// </exception>
    public Task AddRepeatabilityTestAsync(RepeatabilityTest test, CancellationToken cancellationToken) =>
        WriteAsync(db => RepeatabilityTables.Add(db, test, _time.GetUtcNow()), cancellationToken);

    /// <summary>All repeatability tests, in the order of reading.</summary>
    public Task<IReadOnlyList<RepeatabilityTest>> ListRepeatabilityTestsAsync(CancellationToken cancellationToken) =>
        ReadAsync<IReadOnlyList<RepeatabilityTest>>(RepeatabilityTables.List, cancellationToken);

    /// <summary>Adds a reference strip that was read again.</summary>
    /// <exception cref="StoreException">
    /// It is there already (<see cref="StoreFault.Duplicate"/>), or there is no such lot or session (<see cref="StoreFault.NotFound"/>).
    /// </exception>
    public Task AddRecheckAsync(ReferenceRecheck recheck, CancellationToken cancellationToken) =>
        WriteAsync(db => RecheckTables.Add(db, recheck, _time.GetUtcNow()), cancellationToken);

    /// <summary>How often the reference strip of a lot was read again, in the order of reading.</summary>
    public Task<IReadOnlyList<ReferenceRecheck>> ListRechecksAsync(string lotCode, CancellationToken cancellationToken) =>
        ReadAsync<IReadOnlyList<ReferenceRecheck>>(db => RecheckTables.List(db, lotCode), cancellationToken);
}
