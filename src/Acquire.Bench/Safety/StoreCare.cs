using Acquire.Storage.Files;
using Acquire.Storage.Inspection;

namespace Acquire.Bench.Safety;

/// <summary>A look through a store.</summary>
/// <param name="Backup">The newest sound backup in the data folder, where the store is not sound; null where there is none.</param>
/// <param name="SealedRows">How many rows were sealed; null where none was to be.</param>
/// <param name="IsSealRefused">Whether sealing was asked for and other things are wrong, which a seal would only hide.</param>
public sealed record StoreLook(StoreReport Report, BackupFile? Backup, long? SealedRows = null, bool IsSealRefused = false);

/// <summary>A backup that was put in the place of the store, or was not because it is not sound.</summary>
/// <param name="Look">What the look through the backup told.</param>
/// <param name="SetAside">The store that was there; null where there was none.</param>
public sealed record RestoredStore(string BackupPath, string StorePath, StoreLook Look, string? SetAside)
{
    public bool IsDone => Look.Report.IsSound;
}

/// <summary>Looks after the store of a data folder. Every member throws <see cref="StoreException"/> when a file cannot be used.</summary>
public sealed class StoreCare(string folder, TimeProvider time)
{
    private string StorePath => Path.Combine(folder, "acquire.db");

    /// <summary>Looks the store or another file through; it changes nothing, unless rows without a seal are to be sealed.</summary>
    /// <param name="file">Another file; null for the store.</param>
    /// <param name="seal">Whether rows of the store that have no seal are sealed as they are.</param>
    /// <exception cref="StoreException">Another file is to be sealed.</exception>
    public async Task<StoreLook> VerifyAsync(string? file, bool seal, CancellationToken cancellationToken)
    {
        var report = await StoreInspection.InspectAsync(file ?? StorePath, time, cancellationToken);
        if (!seal || report.Findings.IsEmpty)
        {
            return await LookAsync(report, cancellationToken);
        }

        if (file is not null)
        {
            throw new StoreException(StoreFault.Refused, "--seal is for the store of the data folder; leave --file out.");
        }

        // Sealing what is not understood would make damage look sound, so it comes after the whole look and only where that allows it.
        if (report.Findings.Any(f => f.Kind != StoreFindingKind.NotSealed))
        {
            return await LookAsync(report, cancellationToken) with { IsSealRefused = true };
        }

        await using var store = await AcquireStore.OpenAsync(folder, time, cancellationToken);
        var rows = await store.SealAsync(cancellationToken);
        return await LookAsync(await StoreInspection.InspectAsync(store.FilePath, time, cancellationToken), cancellationToken) with
        {
            SealedRows = rows,
        };
    }

    /// <summary>Puts a sound backup in the place of the store; it stays as it is, and the store that is there is kept aside.</summary>
    public async Task<RestoredStore> RestoreAsync(string file, CancellationToken cancellationToken)
    {
        var backup = Path.GetFullPath(file);
        var look = await LookAsync(await StoreInspection.InspectAsync(backup, time, cancellationToken), cancellationToken);
        var aside = look.Report.IsSound ? await AcquireStore.RestoreAsync(backup, folder, time, cancellationToken) : null;
        return new RestoredStore(backup, StorePath, look, aside);
    }

    private async Task<StoreLook> LookAsync(StoreReport report, CancellationToken cancellationToken) =>
        new(report, report.IsSound ? null : await StoreInspection.NewestSoundAsync(folder, time, cancellationToken));
}
