namespace Acquire.Instruments.Links;

/// <summary>Opens a port on a worker, with a limit of time, and puts the platform's refusals into words.</summary>
internal static class SerialOpening
{
    private const int Busy = 16; // EBUSY, the same number on Linux and macOS
    private const int Forbidden = 13; // EACCES, the same number on Linux and macOS

    /// <summary>Opens a port.</summary>
    /// <exception cref="LinkException">The system refuses the port, or does not answer in time.</exception>
    public static async Task<SerialLine> OpenAsync(
        PortFacts facts, LinkSettings settings, TimeSpan timeout, TimeProvider time, CancellationToken cancellationToken)
    {
        var opening = Task.Run(() => SerialLine.Open(facts.ResolvedPath, settings), CancellationToken.None);
        try
        {
            return await opening.WaitAsync(timeout, time, cancellationToken);
        }
        catch (Exception e) when (e is TimeoutException or OperationCanceledException && !opening.IsCompleted)
        {
            // Closed as soon as it opens after all.
            _ = opening.ContinueWith(
                static late => late.Result.Port.BaseStream.Dispose(),
                CancellationToken.None,
                TaskContinuationOptions.OnlyOnRanToCompletion,
                TaskScheduler.Default);
            throw e is OperationCanceledException
                ? e
                : new LinkException(LinkFault.Broken, $"{facts.Name} does not open within {timeout.TotalSeconds:0} s. {Hint(facts)}", e);
        }
        catch (Exception e) when (e is UnauthorizedAccessException or IOException or ArgumentException or InvalidOperationException)
        {
            throw Explain(facts, settings, e);
        }
    }

    private static LinkException Explain(PortFacts facts, LinkSettings settings, Exception e) => (e, e.InnerException?.HResult) switch
    {
        (UnauthorizedAccessException, Busy) => new LinkException(
            LinkFault.InUse, $"{facts.Name} is held by another program of another user. End that program, or name another port.", e),
        (UnauthorizedAccessException, Forbidden) => new LinkException(LinkFault.Denied, $"You may not open {facts.Name}.", e),
        (UnauthorizedAccessException, _) => new LinkException(
            OperatingSystem.IsWindows() ? LinkFault.InUse : LinkFault.Broken,
            $"{facts.Name} cannot be opened: {(e.InnerException ?? e).Message} Another program may hold it, or no adapter is behind it.",
            e),
        _ => new LinkException(
            LinkFault.BadSettings,
            string.Create(
                CultureInfo.InvariantCulture,
                $"{facts.Name} cannot be set to {settings.Baud} baud, {settings.DataBits} data bits, {settings.StopBits} stop bits: "
                + $"{e.Message}"),
            e),
    };

    // On macOS the tty.* names wait for a carrier that a densitometer does not raise.
    private static string Hint(PortFacts facts) =>
        facts.ResolvedPath.StartsWith("/dev/tty.", StringComparison.Ordinal)
            ? $"Name {facts.ResolvedPath.Replace("/dev/tty.", "/dev/cu.", StringComparison.Ordinal)} instead."
            : "Unplug the adapter and plug it in again.";
}
