using Acquire.Bench.Safety;
using Acquire.Storage.Files;
using Acquire.Storage.Inspection;

namespace Acquire.Web.Documents;

/// <summary>Backups for other programs.</summary>
internal static class BackupJson
{
    public static BackupMadeDocument Made(string store, string made, IReadOnlyList<string> removed) => new()
    {
        Store = store,
        Made = made,
        Removed = removed,
    };

    public static RestoredDocument Restored(RestoredStore restored) => new()
    {
        Restored = restored.BackupPath,
        Store = restored.StorePath,
        SetAside = restored.SetAside,
    };

    public static BackupsDocument Of(BackupFolder folder) => new()
    {
        Folder = folder.Path,
        Backups = folder.Files.Select(f => new BackupsBackupDocument { Path = f.Path, At = f.At, Bytes = f.Bytes }),
    };
}

/// <summary>A file that was looked through, for other programs.</summary>
internal static class VerifyJson
{
    public static VerifiedDocument Of(StoreLook look) => new()
    {
        File = look.Report.File,
        SchemaVersion = look.Report.SchemaVersion,
        Sound = look.Report.IsSound,
        Seals = look.Report.Seals,
        Contents = look.Report.Contents,
        Findings = look.Report.Findings,
        NewestSoundBackup = look.Backup?.Path,
    };
}

internal sealed record BackupMadeDocument
{
    public required string Store { get; init; }
    public required string Made { get; init; }
    public required IReadOnlyList<string> Removed { get; init; }
}

internal sealed record RestoredDocument
{
    public required string Restored { get; init; }
    public required string Store { get; init; }
    public required string? SetAside { get; init; }
}

internal sealed record BackupsDocument
{
    public required string Folder { get; init; }
    public required IEnumerable<BackupsBackupDocument> Backups { get; init; }
}

internal sealed record BackupsBackupDocument
{
    public required string Path { get; init; }
    public required DateTimeOffset At { get; init; }
    public required long Bytes { get; init; }
}

internal sealed record VerifiedDocument
{
    public required string File { get; init; }
    public required int SchemaVersion { get; init; }
    public required bool Sound { get; init; }
    public required long? Seals { get; init; }
    public required ImmutableSortedDictionary<string, long> Contents { get; init; }
    public required ImmutableArray<StoreFinding> Findings { get; init; }
    public required string? NewestSoundBackup { get; init; }
}
