namespace Acquire.Commands;

/// <summary><c>--give-up</c>: how long an instrument that was unplugged is waited for.</summary>
internal static class GiveUp
{
    /// <summary>Without a keyboard nobody may be there to plug it in again.</summary>
    private static readonly TimeSpan Unattended = TimeSpan.FromSeconds(60);

    public static Option<double?> Option()
    {
        var option = new Option<double?>("--give-up")
        {
            Description = "How long an instrument that was unplugged is waited for; for ever with a keyboard, else 60.",
            HelpName = "SECONDS",
        };
        option.Validators.Add(result =>
        {
            if (result.GetValueOrDefault<double?>() is < 0 or > 1_000_000 or double.NaN)
            {
                result.AddError("--give-up takes 0 to 1000000 seconds.");
            }
        });
        return option;
    }

    public static TimeSpan After(double? seconds, Surroundings surroundings) => seconds is { } given
        ? TimeSpan.FromSeconds(given)
        : surroundings.HasKeyboard ? Timeout.InfiniteTimeSpan : Unattended;
}
