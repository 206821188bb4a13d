namespace Acquire.Instruments.Links;

/// <summary>Who holds a port, as far as it is known.</summary>
/// <param name="Program">The command as the user would type it, such as <c>acquire read</c>, or the name of a foreign process.</param>
/// <param name="ProcessId">Number of the process.</param>
/// <param name="User">The user, or null when unknown.</param>
/// <param name="Since">Since when, or null when unknown.</param>
internal sealed record PortHolder(string Program, int ProcessId, string? User = null, DateTimeOffset? Since = null)
{
    /// <summary>For example <c>acquire read, process 1234, user eva, since 2026-03-01 18:04:05Z</c>.</summary>
    public override string ToString()
    {
        var user = User is null ? string.Empty : $", user {User}";
        var since = Since is { } at ? string.Create(CultureInfo.InvariantCulture, $", since {at.ToUniversalTime():u}") : string.Empty;
        return string.Create(CultureInfo.InvariantCulture, $"{Program}, process {ProcessId}{user}{since}");
    }
}
