using Microsoft.Extensions.Logging;

namespace Acquire.Instruments.Links;

/// <summary>What links write to the log.</summary>
internal static partial class LinkLog
{
    [LoggerMessage(1, LogLevel.Warning, "Closing {Port} took longer than {Deadline}; it was abandoned.")]
    public static partial void Abandoned(ILogger logger, string port, TimeSpan deadline);

    [LoggerMessage(2, LogLevel.Debug, "Closing {Port} reported a fault that does not matter any more.")]
    public static partial void CloseFailed(ILogger logger, string port, Exception fault);

    [LoggerMessage(3, LogLevel.Warning, "{Notice}")]
    public static partial void Notice(ILogger logger, string notice);

    [LoggerMessage(4, LogLevel.Information, "Opened {Port}.")]
    public static partial void Opened(ILogger logger, string port);

    [LoggerMessage(5, LogLevel.Warning, "Lost {Port}: {Reason}")]
    public static partial void Lost(ILogger logger, string port, string reason);

    [LoggerMessage(6, LogLevel.Warning, "Attempt {Attempt} to open {Port} again failed: {Reason}")]
    public static partial void StillGone(ILogger logger, string port, int attempt, string reason);

    [LoggerMessage(7, LogLevel.Information, "{Port} is back after {Away}.")]
    public static partial void Back(ILogger logger, string port, TimeSpan away);
}
