using Acquire.Instruments.Links;
using Microsoft.Extensions.Logging;

namespace Acquire.Instruments.Orders;

/// <summary>
/// Sends a command whole or breaks the link: of half a command nobody knows what the instrument makes together with the next.
/// </summary>
internal static partial class OrderBytes
{
    /// <summary>The longest that sending may take. A command is short, so a line that does not take it by then takes nothing.</summary>
    private static readonly TimeSpan Longest = TimeSpan.FromSeconds(5);

    /// <exception cref="LinkException">It was not sent, or not whole.</exception>
    /// <exception cref="OperationCanceledException">The token was cancelled; the link is broken then.</exception>
    public static async Task SendAsync(
        IByteLink link, ImmutableArray<byte> bytes, TimeProvider time, ILogger logger, CancellationToken cancellationToken)
    {
        using var late = new CancellationTokenSource(Longest, time);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(late.Token, cancellationToken);
        try
        {
            await link.WriteAsync(bytes.AsMemory(), either.Token);
        }
        catch (OperationCanceledException e) when (late.IsCancellationRequested && !cancellationToken.IsCancellationRequested)
        {
            throw new LinkException(
                LinkFault.Broken,
                FormattableString.Invariant(
                    $"{link.Name} took no bytes for {Longest.TotalSeconds:0} s; check the instrument's flow control ")
                + "(handshake) and the cable.",
                e);
        }
        catch (ObjectDisposedException e)
        {
            // Whoever reads the link may close it while a line that takes nothing still holds the command.
            throw new LinkException(LinkFault.Gone, $"{link.Name} was closed while a command was sent.", e);
        }

        Sent(logger, link.Name, bytes.Length);
    }

    [LoggerMessage(20, LogLevel.Debug, "Sent a command of {Count} bytes to {Port}.")]
    private static partial void Sent(ILogger logger, string port, int count);
}
