using Acquire.Rendering.Safety;
using Acquire.Storage.Inspection;

namespace Acquire.Commands.Safety;

/// <summary><c>acquire verify</c>: looks the store or a backup through.</summary>
internal static class VerifyCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var file = Given.Option<string?>("--file", "FILE", "A backup or another store file; the store of the data folder when not given.");
        var seal = new Option<bool>("--seal")
        {
            Description = "Seal rows of the store that have no seal, as they are, once nothing else is wrong.",
        };
        var json = Common.Json();
        var command = new Command(
            "verify", "Look the store or a backup through: structure, references, seals of all rows, every record. It changes nothing.")
        {
            file, seal, json,
        };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var look = await Common.Care(parsed, surroundings)
                .VerifyAsync(parsed.GetValue(file), parsed.GetValue(seal), cancellationToken);
            if (look.IsSealRefused)
            {
                surroundings.Error.Line("Nothing was sealed: other things are wrong, and a seal would only hide them.");
            }

            if (look.SealedRows is { } rows)
            {
                surroundings.Error.Line($"{Numbers.Count((int)rows, "row")} sealed as they are.");
            }

            VerifyReport.Write(surroundings.Out, look, parsed.GetValue(json));
            return look.Report.IsSound ? ExitCode.Done : ExitCode.NoStore;
        });
        return command;
    }
}

/// <summary>Tells what of the store is damaged or gone, and which backup helps.</summary>
internal static class LostStore
{
    /// <summary>Tells the records that a command had to leave out, and whether there were any.</summary>
    public static bool TellLeftOut(Surroundings surroundings)
    {
        string[] leftOut = [.. surroundings.Opened.SelectMany(s => s.LeftOut).Distinct()];
        foreach (var record in leftOut)
        {
            surroundings.Error.Line(record);
        }

        return leftOut.Length > 0;
    }

    /// <summary>Names the newest backup that is sound when the store is damaged or gone.</summary>
    public static async Task AdviseAsync(Exception fault, ParseResult parsed, Surroundings surroundings)
    {
        if (fault is not StoreException { Fault: StoreFault.Damaged or StoreFault.NotADatabase or StoreFault.Lost })
        {
            return;
        }

        try
        {
            var folder = DataFolder.Resolve(parsed.GetValue(Common.Data));
            var backup = await StoreInspection.NewestSoundAsync(folder, surroundings.Time, CancellationToken.None);
            surroundings.Error.Line(backup is null
                ? "There is no sound backup in the data folder."
                : $"The newest sound backup is {backup.Path}; to put it in place: acquire restore {backup.Path}");
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // The first fault is what counts; that the folder of backups cannot be read either adds nothing to do.
        }
    }
}
