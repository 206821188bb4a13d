namespace Acquire.Instruments.Links;

/// <summary>How links are opened, watched and closed.</summary>
public sealed record LinkOpenerOptions
{
    /// <summary>The command that holds the port, as a second opener is told it. Default <c>acquire</c>.</summary>
    public string Command { get; init; } = "acquire";

    /// <summary>The folder of the lock files. Default a private folder of the user in the system's temporary one.</summary>
    public string LockFolder { get; init; } = Path.Combine(Path.GetTempPath(), $"acquire-ports-{Environment.UserName}");

    /// <summary>How often it is looked whether the device is still there. Default 1 s.</summary>
    public TimeSpan PresenceInterval { get; init; } = TimeSpan.FromSeconds(1);

    /// <summary>How long opening or connecting may take. Default 10 s.</summary>
    public TimeSpan OpenTimeout { get; init; } = TimeSpan.FromSeconds(10);

    /// <summary>How long a server may take to agree that its port be set, and again to confirm the settings. Default 3 s.</summary>
    public TimeSpan AnswerTimeout { get; init; } = TimeSpan.FromSeconds(3);

    /// <summary>How long a write may take. Default 5 s.</summary>
    public TimeSpan WriteTimeout { get; init; } = TimeSpan.FromSeconds(5);

    /// <summary>How long closing may take before the port is abandoned. Default 2 s.</summary>
    public TimeSpan CloseDeadline { get; init; } = TimeSpan.FromSeconds(2);
}
