using Acquire.Bench.Lots;
using Acquire.Bench.Readings;
using Acquire.Bench.Sessions;
using Acquire.Instruments.Links;
using Acquire.Instruments.ProfileFiles;
using Acquire.Instruments.Profiles;
using NSubstitute;

namespace Acquire.Bench.Tests.Support;

/// <summary>A desk on a real store; only the port is scripted, and nobody is at the keyboard unless a test sits down.</summary>
internal static class Desk
{
    public static ReadingDesk At(AcquireStore store, LotBook lots, ILinkOpener links) =>
        new(store, lots, links, TimeProvider.System, NullLogger.Instance);

    public static ReadingTerms Terms(int reads, string profile = "labelled-line") => Terms(reads, new ProfileLibrary(null).Find(profile));

    public static ReadingTerms Terms(int reads, DeviceProfile profile) =>
        new(new InstrumentSetup(new LinkAddress.Serial("scripted"), profile, profile.Link), reads, "staff");

    public static BenchSeat Seat(IBenchDisplay? display = null, System.Threading.Channels.ChannelReader<BenchCommand>? commands = null)
    {
        var nothing = System.Threading.Channels.Channel.CreateUnbounded<BenchCommand>();
        nothing.Writer.Complete();
        return new BenchSeat(display ?? Substitute.For<IBenchDisplay>(), commands ?? nothing.Reader) { GiveUpAfter = TimeSpan.Zero };
    }
}
