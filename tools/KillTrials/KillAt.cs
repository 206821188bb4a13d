namespace KillTrials;

/// <summary>The instant at which a program is killed.</summary>
/// <param name="Beginning">Beginning of a line on standard error that is waited for; null to wait for none.</param>
/// <param name="Times">How many such lines.</param>
/// <param name="Then">How long after the last of them, or after the start.</param>
internal sealed record KillAt(string? Beginning, int Times, TimeSpan Then)
{
    /// <summary>So long after the start.</summary>
    public static KillAt After(TimeSpan delay) => new(null, 0, delay);
}
