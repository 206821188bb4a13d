namespace Acquire.Instruments.Links;

/// <summary>The many ways in which the platform says that an open port is lost.</summary>
internal static class PortLoss
{
    /// <summary>Whether the exception means that the port is lost, rather than a mistake in this program.</summary>
    public static bool Is(Exception e) =>
        e is IOException or UnauthorizedAccessException or ObjectDisposedException or InvalidOperationException
            or OperationCanceledException;
}
