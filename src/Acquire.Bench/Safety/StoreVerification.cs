using Acquire.Analysis.Judgement;
using Acquire.Storage.Backups;
using Acquire.Storage.Inspection;

namespace Acquire.Bench.Safety;

/// <summary>Looks stores and backups through; joins the store's own checks with what the analysis makes of the reads.</summary>
public static class StoreVerification
{
    /// <summary>Means are stored as they were computed; the same reads must give the same to the last digits.</summary>
    private const double Tolerance = 1e-9;

    /// <summary>Looks a file through without changing it.</summary>
    /// <exception cref="StoreException">There is no such file, or no store of this version or an earlier one in it.</exception>
    public static Task<StoreReport> OfAsync(string file, TimeProvider time, CancellationToken cancellationToken) =>
        StoreInspection.InspectAsync(file, WrongMean, time, cancellationToken);

    /// <summary>The newest backup of a data folder that is sound; null when there is none.</summary>
    public static async Task<BackupFile?> NewestSoundAsync(string dataFolder, TimeProvider time, CancellationToken cancellationToken)
    {
        foreach (var backup in BackupFolder.Of(dataFolder).Files.Reverse())
        {
            try
            {
                if ((await OfAsync(backup.Path, time, cancellationToken)).IsSound)
                {
                    return backup;
                }
            }
            catch (StoreException)
            {
                // That one is of no use; the one before may be.
            }
        }

        return null;
    }

    /// <summary>What is wrong with the means of a strip; null when they follow from its reads.</summary>
    public static string? WrongMean(StripRecord strip)
    {
        ArgumentNullException.ThrowIfNull(strip);
        var expected = PatchMeans.Of(strip.Patches);
        if (expected.Length != strip.Means.Length)
        {
            return $"it has {strip.Means.Length} means, its reads make {expected.Length}";
        }

        var wrong = expected.FirstOrDefault(e => strip.Mean(e.PatchKey, e.Channel) is not { } mean
            || Math.Abs(mean.Mean - e.Mean) > Tolerance || mean.Reads != e.Reads || Math.Abs((mean.StandardDeviation ?? 0) - (e.StandardDeviation ?? 0)) > Tolerance);
        return wrong is null ? null : $"the mean of {wrong.PatchKey} {wrong.Channel.Word()} does not follow from its reads";
    }
}
