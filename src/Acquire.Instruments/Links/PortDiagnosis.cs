namespace Acquire.Instruments.Links;

/// <summary>
/// Says why a port cannot be opened, before it is tried: the platform reports a missing port, a plain file, a busy port and a
/// forbidden one all in the same words.
/// </summary>
internal static class PortDiagnosis
{
    /// <summary>The trouble, or null when there is none to be seen.</summary>
    public static LinkException? Of(PortFacts facts) => facts switch
    {
        { Exists: false } => new LinkException(LinkFault.NotFound, $"{Missing(facts)} {Listed(facts)}"),
        { IsCharacterDevice: false } => new LinkException(
            LinkFault.BadSettings, $"{Named(facts)} is not a serial port but a file or folder. To read a capture file, replay it instead."),
        { MayOpen: false } => new LinkException(LinkFault.Denied, Denied(facts)),
        _ => null,
    };

    private static string Missing(PortFacts facts) =>
        facts.Name == facts.ResolvedPath
            ? $"There is no port {facts.Name}."
            : $"There is no port {facts.Name}: it leads to {facts.ResolvedPath}, which is not there.";

    private static string Listed(PortFacts facts) => facts.Ports.IsEmpty
        ? "No serial port was found at all: check that the adapter is plugged in and its driver loaded."
        : $"Ports that there are: {string.Join(", ", facts.Ports)}.";

    private static string Denied(PortFacts facts) => facts.Ownership switch
    {
        { GroupMayOpen: true, UserIsListed: true } own =>
            $"You may not open {Named(facts)} yet: you are in the group {own.Group}, which it belongs to, but this session began before "
            + "that. "
            + "Log out and in again.",
        { GroupMayOpen: true } own =>
            $"You may not open {Named(facts)}: the port belongs to the group {own.Group}. Add yourself with: "
            + $"sudo usermod -aG {own.Group} {facts.User}, then log out and in again.",
        not null =>
            $"You may not open {Named(facts)}: only its owner may. Ask the administrator for a udev rule that gives it to a group that "
            + "you are in.",
        null => $"You may not open {Named(facts)}. Ask the administrator for the right to read and write it.",
    };

    private static string Named(PortFacts facts) =>
        facts.Name == facts.ResolvedPath ? facts.Name : $"{facts.Name} ({facts.ResolvedPath})";
}
