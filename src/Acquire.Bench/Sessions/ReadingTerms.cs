using System.Threading.Channels;
using Acquire.Instruments.Links;
using Acquire.Instruments.Profiles;
using Channel = Acquire.Domain.Densitometry.Channel;

namespace Acquire.Bench.Sessions;

/// <summary>The instrument of a session: where it is and how it speaks.</summary>
/// <param name="Settings">The line settings in force: the profile's, or what the user said instead.</param>
public sealed record InstrumentSetup(LinkAddress Address, DeviceProfile Profile, LinkSettings Settings)
{
    private readonly string? _name;

    /// <summary>The instrument's name; the profile's where it has none of its own.</summary>
    public string Name { get => _name ?? Profile.Name; init => _name = value; }

    /// <summary>What finds the profile again: its name, or a file; the name where nobody said.</summary>
    public string? ProfileSource { get; init; }

    /// <summary>What the record says of the instrument.</summary>
    public InstrumentInUse InUse => new(Profile.Name, Profile.Hash, Address.ToString()) { Name = Name };
}

/// <summary>What every guided reading needs to know, whatever it is for.</summary>
/// <param name="ReadsPerPatch">How many reads each patch is to have.</param>
/// <param name="By">The person who reads.</param>
public sealed record ReadingTerms(InstrumentSetup Instrument, int ReadsPerPatch, string By)
{
    /// <summary>Readings that came while nobody read, to be the session's first; null where none are taken.</summary>
    public LooseReadings? Loose { get; init; }

    /// <summary>The plan of a session with this instrument.</summary>
    /// <exception cref="Domain.ImpossibleValueException">The reads cannot be planned so.</exception>
    internal SessionPlan PlanFor(SessionPurpose purpose, StripLayout layout, ImmutableArray<Channel> channels, int readsPerPlacement = 1)
    {
        _ = new Guidance.ReadingPlan(layout, ReadsPerPatch, channels) { ReadsPerPlacement = readsPerPlacement };
        var (_, profile, settings) = Instrument;
        return new SessionPlan(
            purpose, layout, readsPerPlacement, channels, new ProfileText(profile.Name, profile.Hash, profile.Text), settings.Baud);
    }
}

/// <summary>Where a person sits: what is shown and said there, and how long is waited for it.</summary>
/// <param name="Display">Shows what happens.</param>
/// <param name="Commands">The user's commands; complete from the start where there is no keyboard.</param>
public sealed record BenchSeat(IBenchDisplay Display, ChannelReader<BenchCommand> Commands)
{
    internal static readonly TimeSpan UsualStorePatience = TimeSpan.FromSeconds(60);

    /// <summary>
    /// How long the user may still take a step back when all is read; null where nobody could, so that it is kept at once.
    /// </summary>
    public TimeSpan? KeepAfter { get; init; }

    /// <summary>How long an instrument that was unplugged is waited for; zero: not at all; infinite: for ever. Default 60 s.</summary>
    public TimeSpan GiveUpAfter { get; init; } = TimeSpan.FromSeconds(60);

    /// <summary>Is told when the session has begun and is in the store, before anything is read.</summary>
    public Action<OpenSession>? Began { get; init; }

    /// <summary>What else is written in the transaction that begins the session.</summary>
    public Action<StoreTransaction, Guid>? AlsoBegins { get; init; }

    /// <summary>How long a store that another program holds is waited for, while what comes is kept in memory. Default 60 s.</summary>
    public TimeSpan StorePatience { get; init; } = UsualStorePatience;

    /// <summary>The command that reads, for the note that tells others who reads the session.</summary>
    public string Program { get; init; } = "acquire";
}
