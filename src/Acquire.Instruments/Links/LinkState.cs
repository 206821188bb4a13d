namespace Acquire.Instruments.Links;

/// <summary>What is known of a link that is opened again when it breaks: never more than that.</summary>
/// <param name="Message">The state in words for the user.</param>
public abstract record LinkState(string Message)
{
    /// <summary>The port is open; whether an instrument is behind it shows when it sends.</summary>
    /// <param name="Port">The port as it is named now.</param>
    /// <param name="Notices">What the user should know about how it was opened.</param>
    public sealed record Connected(string Port, ImmutableArray<string> Notices) : LinkState($"connected: {Port}");

    /// <summary>The port is open and nothing has come for a while.</summary>
    /// <param name="Port">The port.</param>
    /// <param name="For">How long.</param>
    public sealed record Silent(string Port, TimeSpan For) : LinkState(string.Create(
        CultureInfo.InvariantCulture, $"silent for {For.TotalMinutes:0.#} min: {Port} is open and nothing comes"));

    /// <summary>The link broke.</summary>
    /// <param name="Fault">How.</param>
    public sealed record Gone(LinkException Fault) : LinkState($"gone: {Fault.Message}");

    /// <summary>The link is being opened again and could not be so far.</summary>
    /// <param name="Attempt">How often it has been tried, from 1.</param>
    /// <param name="Fault">Why the last attempt failed.</param>
    public sealed record Reconnecting(int Attempt, LinkException Fault) : LinkState(string.Create(
        CultureInfo.InvariantCulture, $"reconnecting, attempt {Attempt}: {Fault.Message}"));
}
