namespace Acquire.Instruments.Links;

/// <summary>What can be known about a port without opening it.</summary>
/// <param name="Name">The port as the user named it.</param>
/// <param name="ResolvedPath">The device at the end of all links.</param>
/// <param name="Exists">Whether there is something.</param>
/// <param name="IsCharacterDevice">Whether it is a character device; null where the system is not asked.</param>
/// <param name="MayOpen">Whether this user may read and write it.</param>
/// <param name="Ownership">Whose it is; null where the system is not asked.</param>
/// <param name="User">The user who runs this program.</param>
/// <param name="Ports">The ports that there are.</param>
internal sealed record PortFacts(
    string Name,
    string ResolvedPath,
    bool Exists,
    bool? IsCharacterDevice,
    bool MayOpen,
    PortOwnership? Ownership,
    string User,
    ImmutableArray<ListedPort> Ports);

/// <summary>Whose a device is.</summary>
/// <param name="Group">The group that owns it.</param>
/// <param name="GroupMayOpen">Whether its group may read and write it.</param>
/// <param name="UserIsListed">Whether the list of groups has the user in it, in force or not yet.</param>
internal sealed record PortOwnership(string Group, bool GroupMayOpen, bool UserIsListed);
