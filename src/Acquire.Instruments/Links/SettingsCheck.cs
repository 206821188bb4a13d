namespace Acquire.Instruments.Links;

/// <summary>Refuses line settings that no port can have, before a port is touched.</summary>
internal static class SettingsCheck
{
    private const int LeastBaud = 50;
    private const int LargestBaud = 4_000_000;
    private static readonly TimeSpan LongestSettle = TimeSpan.FromMinutes(1);

    /// <summary>Checks the bounds that <see cref="LinkSettings"/> states.</summary>
    /// <exception cref="LinkException">A setting is out of bounds; the message names each that is.</exception>
    public static void Demand(LinkSettings settings)
    {
        List<string> wrong = [];
        if (settings.Baud is < LeastBaud or > LargestBaud)
        {
            wrong.Add(string.Create(CultureInfo.InvariantCulture, $"{settings.Baud} baud; expected {LeastBaud} to {LargestBaud}"));
        }

        if (settings.DataBits is not (7 or 8))
        {
            wrong.Add(string.Create(CultureInfo.InvariantCulture, $"{settings.DataBits} data bits; expected 7 or 8"));
        }

        if (settings.StopBits is not (1 or 2))
        {
            wrong.Add(string.Create(CultureInfo.InvariantCulture, $"{settings.StopBits} stop bits; expected 1 or 2"));
        }

        if (settings.SettleAfterOpen < TimeSpan.Zero || settings.SettleAfterOpen > LongestSettle)
        {
            wrong.Add(
                string.Create(CultureInfo.InvariantCulture, $"a settling time of {settings.SettleAfterOpen}; expected 0 to 1 minute"));
        }

        if (wrong.Count > 0)
        {
            throw new LinkException(LinkFault.BadSettings, $"The line cannot be set so: {string.Join("; ", wrong)}.");
        }
    }
}
