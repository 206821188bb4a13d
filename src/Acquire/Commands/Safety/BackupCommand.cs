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
            Description =
                "The file to make; it must not exist yet. Without one: the folder backups in the data folder, where old ones are "
                + "thinned out.",
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
                BackupFolder.Of(DataFolder.Resolve(parsed.GetValue(Common.Data))), surroundings.Time, parsed.GetValue(json));
            return ExitCode.Done;
        });
        return command;
    }
}
