using Acquire.Rendering.Safety;
using Acquire.Storage.Inspection;

namespace Acquire.Commands.Safety;

/// <summary><c>acquire verify</c>: looks the store or a backup through.</summary>
internal static class VerifyCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var file = new Option<string?>("--file")
        {
            Description = "A backup or another store file; the store of the data folder when not given.",
            HelpName = "FILE",
        };
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
            var folder = DataFolder.Resolve(parsed.GetValue(Common.Data));
            var path = parsed.GetValue(file) ?? Path.Combine(folder, "acquire.db");
            var report = await StoreInspection.InspectAsync(path, surroundings.Time, cancellationToken);
            // Sealing what is not understood would make damage look sound, so it comes after the whole look and only where that allows it.
            if (parsed.GetValue(seal) && report.Findings.Length > 0)
            {
                report = await SealAsync(parsed, surroundings, report, parsed.GetValue(file) is not null, cancellationToken);
            }

            var backup = report.IsSound ? null : await StoreInspection.NewestSoundAsync(folder, surroundings.Time, cancellationToken);
            VerifyReport.Write(surroundings.Out, report, backup, parsed.GetValue(json));
            return report.IsSound ? ExitCode.Done : ExitCode.NoStore;
        });
        return command;
    }

    private static async Task<StoreReport> SealAsync(
        ParseResult parsed, Surroundings surroundings, StoreReport report, bool isOther, CancellationToken cancellationToken)
    {
        if (isOther)
        {
            throw new StoreException(StoreFault.Refused, "--seal is for the store of the data folder; leave --file out.");
        }

        if (report.Findings.Any(f => f.Kind != StoreFindingKind.NotSealed))
        {
            surroundings.Error.Line("Nothing was sealed: other things are wrong, and a seal would only hide them.");
            return report;
        }

        await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
        var count = await store.SealAsync(cancellationToken);
        surroundings.Error.Line($"{Numbers.Count((int)count, "row")} sealed as they are.");
        return await StoreInspection.InspectAsync(store.FilePath, surroundings.Time, cancellationToken);
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
