using Acquire.Rendering.Safety;
using Acquire.Storage.Files;

namespace Acquire.Commands.Safety;

/// <summary><c>acquire backup</c>: a verified copy of the whole store in one file.</summary>
internal static class BackupCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var file = new Argument<string?>("file")
        {
            Description = "The file to make; it must not exist yet. Without one: the folder backups in the data folder, "
                + "where old ones are thinned out.",
            HelpName = "FILE",
            Arity = ArgumentArity.ZeroOrOne,
        };
        var json = Common.Json();
        var command = new Command(
            "backup",
            "Copy the whole store into one file, while it stays in use, and verify the copy.") { file, json, BuildList(surroundings) };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            if (parsed.GetValue(file) is { } given)
            {
                var isDatabase = given.EndsWith(".db", StringComparison.OrdinalIgnoreCase);
                var target = Path.GetFullPath(isDatabase ? given : OutFile.New(given));
                await store.BackUpAsync(target, cancellationToken);
                BackupReport.WriteMade(surroundings.Out, store.FilePath, target, [], parsed.GetValue(json));
                return ExitCode.Done;
            }

            var (made, removed) = await store.BackUpAsync(cancellationToken);
            BackupReport.WriteMade(surroundings.Out, store.FilePath, made, removed, parsed.GetValue(json));
            return ExitCode.Done;
        });
        return command;
    }

    private static Command BuildList(Surroundings surroundings)
    {
        var json = Common.Json();
        var command = new Command("list", "List the backups in the data folder.") { json };
        command.SetAction(parsed =>
        {
            BackupReport.WriteList(
                surroundings.Out,
                BackupFolder.Of(DataFolder.Resolve(parsed.GetValue(Common.Data))),
                surroundings.Time,
                parsed.GetValue(json));
            return ExitCode.Done;
        });
        return command;
    }
}

/// <summary><c>acquire restore</c>: puts a backup in the place of the store.</summary>
internal static class RestoreCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var file = new Argument<string>("file") { Description = "The backup; it stays as it is.", HelpName = "FILE" };
        var json = Common.Json();
        var command = new Command(
            "restore", "Look a backup through and put it in the place of the store; the store that is there is kept aside.") { file, json };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var restored = await Common.Care(parsed, surroundings).RestoreAsync(parsed.GetRequiredValue(file), cancellationToken);
            if (!restored.IsDone)
            {
                surroundings.Error.Line("Nothing was restored: the backup is not sound.");
                VerifyReport.Write(surroundings.Out, restored.Look, parsed.GetValue(json));
                return ExitCode.NoStore;
            }

            BackupReport.WriteRestored(surroundings.Out, restored, parsed.GetValue(json));
            return ExitCode.Done;
        });
        return command;
    }
}
