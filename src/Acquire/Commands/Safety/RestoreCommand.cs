using Acquire.Rendering.Safety;
using Acquire.Storage.Inspection;
namespace Acquire.Commands.Safety;

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
            var backup = Path.GetFullPath(parsed.GetRequiredValue(file));
            var folder = DataFolder.Resolve(parsed.GetValue(Common.Data));
            var report = await StoreInspection.InspectAsync(backup, surroundings.Time, cancellationToken);
            if (!report.IsSound)
            {
                surroundings.Error.Line("Nothing was restored: the backup is not sound.");
                VerifyReport.Write(
                    surroundings.Out,
                    report,
                    await StoreInspection.NewestSoundAsync(folder, surroundings.Time, cancellationToken),
                    parsed.GetValue(json));
                return ExitCode.NoStore;
            }

            var aside = await AcquireStore.RestoreAsync(backup, folder, surroundings.Time, cancellationToken);
            if (parsed.GetValue(json))
            {
                JsonOutput.Write(surroundings.Out, new { Restored = backup, Store = Path.Combine(folder, "acquire.db"), SetAside = aside });
                return ExitCode.Done;
            }

            surroundings.Out.Line($"{backup} is in place as the store of {folder}, and was verified before.");
            surroundings.Out.Line(aside is null
                ? "There was no store before."
                : $"The store that was there is {aside}. What was read since the backup was made is in it only; keep it until you have "
                    + $"looked.");
            return ExitCode.Done;
        });
        return command;
    }
}
