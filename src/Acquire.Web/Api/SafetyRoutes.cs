using Acquire.Bench.Safety;
using Acquire.Storage.Files;
using Acquire.Web.Documents;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Acquire.Web.Api;

/// <summary>Backups of the store, and a look through it.</summary>
internal static class SafetyRoutes
{
    public static void MapSafety(this RouteGroupBuilder api)
    {
        var safety = api.MapGroup("").WithTags("safety");
        safety.MapGet("/backups", List).Reads("listBackups", "The backups in the data folder.");
        safety.MapPost("/backups", BackUpAsync)
            .Writes("backUp", "Copy the whole store, while it stays in use, and verify the copy; old backups are thinned out.");
        safety.MapGet("/verify", VerifyAsync)
            .Reads("verify", "Look the store through: structure, references, seals of all rows, every record. It changes nothing.");
    }

    private static BackupsDocument List(DataPlace place) => BackupJson.Of(BackupFolder.Of(place.Folder));

    private static async Task<Created<BackupMadeDocument>> BackUpAsync(AcquireStore store, CancellationToken cancellationToken)
    {
        var (made, removed) = await store.BackUpAsync(cancellationToken);
        return TypedResults.Created("/api/v1/backups", BackupJson.Made(store.FilePath, made, removed));
    }

    private static async Task<VerifiedDocument> VerifyAsync(StoreCare care, CancellationToken cancellationToken) =>
        VerifyJson.Of(await care.VerifyAsync(file: null, seal: false, cancellationToken));
}
