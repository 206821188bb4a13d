using Acquire.Instruments.Links;

namespace Acquire.Instruments.Simulation;

/// <summary>Makes simulated ports.</summary>
public static class SimulatedPorts
{
    /// <summary>Makes a pseudo-terminal where the system has them, and a TCP port on loopback elsewhere.</summary>
    /// <param name="link">
    /// A path at which a symbolic link to the pseudo-terminal is wished; null for none. A TCP port has no use for it.
    /// </param>
    /// <param name="time">The clock of its waits.</param>
    /// <exception cref="LinkException">It cannot be made; the message says why.</exception>
    public static ISimulatedPort Create(string? link, TimeProvider time) =>
        PseudoTerminal.IsSupported ? PseudoTerminal.Open(time, link) : SimulatedTcpPort.Listen(0);
}
