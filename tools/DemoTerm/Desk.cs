using Acquire.Instruments.Lines;
using Acquire.Instruments.ProfileFiles;
using Acquire.Instruments.Profiles;
using Acquire.Instruments.Simulation;

namespace DemoTerm;

/// <summary>
/// The densitometer: reads strips and plaques, each read with the line that an instrument of the profile sends. Its clock goes on as it
/// reads.
/// </summary>
internal sealed class Desk(HistoryClock clock, int seed)
{
    /// <summary>Reads of each patch.</summary>
    public const int ReadsPerPatch = 3;

    private const long Stream = 7_000_002;
    private const string ProfileName = "labelled-line";

    private static readonly DeviceProfile Profile = new ProfileLibrary().Find(ProfileName);

    private readonly SeededChance _chance = new(seed, Stream);
    private readonly LineWriter _writer = new(Profile);

    /// <summary>The instrument as records name it.</summary>
    public static InstrumentInUse Instrument { get; } = new(Profile.Name, Profile.Hash, Places.Port) { Name = Places.Densitometer };

    /// <summary>The instrument as it came into the house.</summary>
    public static Instrument InHouse(string by, DateTimeOffset at) =>
        new(Places.Densitometer, Profile.Name, Revision.First(by, at, "taken over from the photography department"))
        {
            Port = Places.Port,
            DisplayStep = 0.01,
            Filters = "status M",
            Notes = "on the dry side, shared by class and staff",
        };

    /// <summary>Reads the patches in turn.</summary>
    /// <param name="patches">The patches.</param>
    /// <param name="strip">What is true of them.</param>
    /// <param name="reads">Reads of each.</param>
    /// <param name="scratched">The patch whose second read hit a scratch and is left out, with one more read; null for none.</param>
    public ImmutableArray<PatchReads> Read(
        IEnumerable<Patch> patches, FilmStrip strip, int reads = ReadsPerPatch, string? scratched = null) =>
        [.. patches.Select(p => new PatchReads(p, [.. Reads(p.Key, strip, reads, p.Key == scratched)])).ToList()];

    private IEnumerable<PatchRead> Reads(string key, FilmStrip strip, int reads, bool scratched)
    {
        for (var i = 0; i < (scratched ? reads + 1 : reads); i++)
        {
            var reading = Take(strip.Read(key, _chance, Profile.Number.Decimals!.Value), scratched && i == 1);
            yield return new PatchRead(reading, scratched && i == 1 ? new Exclusion("scratch in the patch", clock.Now) : null);
        }
    }

    private Reading Take(ChannelDensities shown, bool scratched)
    {
        // A scratch lets light through, so the read is too thin.
        var scratch = scratched ? 0.09m : 0;
        var densities =
            ChannelDensities.Rgb(shown.Red!.Value.Value - scratch, shown.Green!.Value.Value - scratch, shown.Blue!.Value.Value - scratch);
        clock.Advance(TimeSpan.FromMilliseconds(4000 + _chance.Below(4000)));
        return new Reading(densities, clock.Now, [.. _writer.WriteReading(densities).Select(Line)]);
    }

    private RawLine Line(byte[] sent) => new([.. sent.AsSpan().TrimEnd("\r\n"u8)], clock.Now);
}
