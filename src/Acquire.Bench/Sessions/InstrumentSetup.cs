using Acquire.Instruments.Links;
using Acquire.Instruments.Profiles;

namespace Acquire.Bench.Sessions;

/// <summary>The instrument of a session: where it is and how it speaks.</summary>
/// <param name="Address">The port.</param>
/// <param name="Profile">The device profile.</param>
/// <param name="Settings">The line settings in force: the profile's, or what the user said instead.</param>
public sealed record InstrumentSetup(LinkAddress Address, DeviceProfile Profile, LinkSettings Settings)
{
    /// <summary>What the record says of the instrument.</summary>
    public InstrumentInUse InUse => new(Profile.Name, Profile.Hash, Address.ToString());
}
