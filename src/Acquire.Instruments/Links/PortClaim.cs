namespace Acquire.Instruments.Links;

/// <summary>Claims a port for this program, or says who has it.</summary>
internal static class PortClaim
{
    /// <summary>Takes the lock and makes sure that no foreign process has the device open.</summary>
    /// <param name="facts">The port.</param>
    /// <param name="options">Where locks are, and under what name.</param>
    /// <param name="time">Tells since when.</param>
    /// <param name="notice">Set when no lock could be made, which does not stop the user from reading.</param>
    /// <returns>The lock, to be disposed with the port; null when none could be made.</returns>
    /// <exception cref="LinkException">Somebody else holds the port.</exception>
    public static IDisposable? Take(PortFacts facts, LinkOpenerOptions options, TimeProvider time, out string? notice)
    {
        notice = null;
        PortLock? held = null;
        try
        {
            var holder = new PortHolder(options.Command, Environment.ProcessId, facts.User, time.GetUtcNow());
            held = PortLock.Take(options.LockFolder, facts.Name, facts.ResolvedPath, holder);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            notice = $"No lock could be made in {options.LockFolder} ({e.Message}); see to it that no second program opens {facts.Name}.";
        }

        if (OpenFileScan.Find(facts.ResolvedPath) is { } other)
        {
            held?.Dispose();
            throw new LinkException(
                LinkFault.InUse, $"{facts.Name} is held by {other}. End that program, or name another port.");
        }

        return held;
    }
}
