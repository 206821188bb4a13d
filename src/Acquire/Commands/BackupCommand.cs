using System.CommandLine;
using Acquire.Hosting;
using Acquire.Terminal;

namespace Acquire.Commands;

/// <summary><c>acquire backup</c>: a verified copy of the whole store in one file.</summary>
internal static class BackupCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var file = new Argument<string>("file") { Description = "The file to make; it must not exist yet.", HelpName = "FILE" };
        var command = new Command("backup", "Copy the whole store into one file, while it stays in use, and verify the copy.") { file };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var target = Path.GetFullPath(parsed.GetRequiredValue(file));
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            await store.BackUpAsync(target, cancellationToken);
            surroundings.Out.Line($"{store.FilePath} is copied to {target}, and the copy is verified.");
            return ExitCode.Done;
        });
        return command;
    }
}
