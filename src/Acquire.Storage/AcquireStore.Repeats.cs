using Acquire.Storage.Records;

namespace Acquire.Storage;

public sealed partial class AcquireStore
{
    /// <summary>How the reads of patches scatter within strips, summed up by instrument, channel and density.</summary>
    /// <param name="most">Patches whose reads scatter by more are left out; standard deviation, in density.</param>
    public Task<IReadOnlyList<RepeatSums>> ListRepeatsAsync(double most, CancellationToken cancellationToken) =>
        ReadAsync<IReadOnlyList<RepeatSums>>(db => RepeatQueries.Within(db, most), cancellationToken);

    /// <summary>How the patches of each lot went from day to day over the last strips.</summary>
    public Task<IReadOnlyList<DaySums>> ListDaysAsync(CancellationToken cancellationToken) =>
        ReadAsync<IReadOnlyList<DaySums>>(RepeatQueries.OverDays, cancellationToken);
}
