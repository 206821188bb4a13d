using Acquire.Storage.Inspection;

namespace Acquire.Commands.Safety;

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
