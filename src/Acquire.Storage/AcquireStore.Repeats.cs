using Acquire.Storage.Records;

namespace Acquire.Storage;

public sealed partial class AcquireStore
{
    /// <summary>How the reads of patches scatter within strips, summed up by instrument, channel and density.</summary>
    public Task<IReadOnlyList<RepeatSums>> ListRepeatsAsync(CancellationToken cancellationToken) =>
        ReadAsync<IReadOnlyList<RepeatSums>>(RepeatQueries.Within, cancellationToken);

    /// <summary>How the patches of each lot scatter over the days of the last strips.</summary>
    public Task<IReadOnlyList<DaySums>> ListDayScattersAsync(CancellationToken cancellationToken) =>
        ReadAsync<IReadOnlyList<DaySums>>(RepeatQueries.OverDays, cancellationToken);
}
