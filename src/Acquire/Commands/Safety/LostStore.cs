using Acquire.Bench.Safety;

namespace Acquire.Commands.Safety;

/// <summary>Names the newest backup that is sound when the store is damaged or gone.</summary>
internal static class LostStore
{
    public static async Task AdviseAsync(Exception fault, ParseResult parsed, Surroundings surroundings)
    {
        if (fault is not StoreException { Fault: StoreFault.Damaged or StoreFault.NotADatabase or StoreFault.Lost })
        {
            return;
        }

        try
        {
            var folder = DataFolder.Resolve(parsed.GetValue(Common.Data));
            var backup = await StoreVerification.NewestSoundAsync(folder, surroundings.Time, CancellationToken.None);
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
