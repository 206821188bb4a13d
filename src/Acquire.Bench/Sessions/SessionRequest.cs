using System.Threading.Channels;
using Acquire.Bench.Guidance;
using Acquire.Instruments.Links;
using Acquire.Instruments.Profiles;
using Channel = Acquire.Domain.Densitometry.Channel;

namespace Acquire.Bench.Sessions;

/// <summary>What every guided reading needs to know.</summary>
/// <param name="LotCode">The lot of the strip; empty where no strip is read.</param>
/// <param name="Instrument">The instrument.</param>
/// <param name="ReadsPerPatch">How many reads each patch is to have.</param>
/// <param name="By">The person who reads.</param>
/// <param name="KeepAfter">
/// How long the user may still take a step back when all is read; null where nobody could, so that the strip is kept at once.
/// </param>
public sealed record SessionRequest(string LotCode, InstrumentSetup Instrument, int ReadsPerPatch, string By, TimeSpan? KeepAfter = null)
{
    /// <summary>How long an instrument that was unplugged is waited for; zero: not at all; infinite: for ever. Default 60 s.</summary>
    public TimeSpan GiveUpAfter { get; init; } = TimeSpan.FromSeconds(60);

    /// <summary>The plaque that is read; null where none is.</summary>
    public string? PlaqueName { get; init; }

    /// <summary>The command that reads, for the note that tells others who reads the session.</summary>
    public string Program { get; init; } = "acquire";

    /// <summary>The plan of a session with this instrument.</summary>
    /// <exception cref="Domain.ImpossibleValueException">The reads cannot be planned so.</exception>
    internal SessionPlan PlanFor(SessionPurpose purpose, StripLayout layout, ImmutableArray<Channel> channels, int readsPerPlacement = 1)
    {
        _ = new ReadingPlan(layout, ReadsPerPatch, channels) { ReadsPerPlacement = readsPerPlacement };
        var (_, profile, settings) = Instrument;
        return new SessionPlan(
            purpose, layout, readsPerPlacement, channels, new ProfileText(profile.Name, profile.Hash, profile.Text), settings.Baud);
    }
}

/// <summary>The two ends at which a person sits.</summary>
/// <param name="Display">Shows what happens.</param>
/// <param name="Commands">The user's commands; complete from the start where there is no keyboard.</param>
public sealed record BenchSeat(IBenchDisplay Display, ChannelReader<BenchCommand> Commands);

/// <summary>The instrument of a session: where it is and how it speaks.</summary>
/// <param name="Address">The port.</param>
/// <param name="Profile">The device profile.</param>
/// <param name="Settings">The line settings in force: the profile's, or what the user said instead.</param>
public sealed record InstrumentSetup(LinkAddress Address, DeviceProfile Profile, LinkSettings Settings)
{
    /// <summary>What the record says of the instrument.</summary>
    public InstrumentInUse InUse => new(Profile.Name, Profile.Hash, Address.ToString());
}
