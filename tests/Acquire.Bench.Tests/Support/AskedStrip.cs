using Acquire.Analysis.Judgement;
using Acquire.Analysis.Plausibility;
using Acquire.Bench.Guidance;
using Acquire.Bench.Sessions;
using Acquire.Formats.ProcessSheets;
using Acquire.Instruments.Lines;

namespace Acquire.Bench.Tests.Support;

/// <summary>A C-41 strip whose aims are known, and readings of it in any order. Invented numbers.</summary>
internal static class AskedStrip
{
    public static readonly ProcessSheet Sheet = ShippedSheets.Get("c41");

    private static readonly Dictionary<string, ChannelDensities> Densities = new()
    {
        ["dmin"] = ChannelDensities.Rgb(0.26m, 0.62m, 0.80m),
        ["ld"] = ChannelDensities.Rgb(0.46m, 0.84m, 1.04m),
        ["hd"] = ChannelDensities.Rgb(1.26m, 1.74m, 2.00m),
        ["dmax"] = ChannelDensities.Rgb(2.12m, 2.58m, 2.92m),
        ["yellow"] = ChannelDensities.Rgb(0.37m, 0.88m, 2.72m),
    };

    public static StripKnowledge Knowledge { get; } = new(Sheet, Sheet.Layout) { Aims = KnownAims() };

    public static ReadingPlan Plan(int reads = 1) => new(Sheet.Layout, reads, Channels.Colours);

    public static SessionQuestioner Questioner(bool atKeyboard = true) => new(Knowledge, atKeyboard);

    /// <summary>Readings of patches, three seconds apart, each a little off its aim.</summary>
    public static IEnumerable<InstrumentEvent> Taken(params IEnumerable<string> keys) =>
        keys.Select((key, i) => Taken(key, Some.Moment.AddSeconds(3 * i)));

    public static InstrumentEvent.ReadingTaken Taken(string key, DateTimeOffset at)
    {
        var aim = Densities[key];
        var densities = ChannelDensities.Rgb(aim.Red!.Value.Value + 0.01m, aim.Green!.Value.Value, aim.Blue!.Value.Value - 0.01m);
        var line = RawLine.OfText(densities.ToString(), at);
        return new InstrumentEvent.ReadingTaken(line, new Reading(densities, at, [line]));
    }

    /// <summary>The red densities of the reads that count, by patch in the layout's order.</summary>
    public static IEnumerable<decimal> Reds(GuidedStrip strip) =>
        strip.Patches.SelectMany(p => p.Accepted).Select(r => r.Densities.Red!.Value.Value);

    private static System.Collections.Immutable.ImmutableArray<Aim> KnownAims() => Aims.Of(
        new StripLot("4410", "c41", Sheet.Layout),
        new LotReference(
            Guid.CreateVersion7(Some.Moment),
            "4410",
            [.. Sheet.Layout.Patches.Select(p => new PatchReads(p, [new PatchRead(Reading.Entered(Densities[p.Key], Some.Moment))]))],
            new Provenance(Some.Moment, "staff", null),
            Revision.First("staff", Some.Moment, "entered")));
}
