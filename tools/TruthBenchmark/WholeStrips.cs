using Acquire.Analysis.Control;
using Acquire.Analysis.Judgement;
using Acquire.Formats.ProcessSheets;
using Acquire.Instruments.Simulation;

namespace TruthBenchmark;

/// <summary>Strips of a process in order, three reads a patch, a bottle each forty strips: judged one after another on one core.</summary>
internal static class WholeStrips
{
    private static readonly DateTimeOffset Start = new(2026, 1, 1, 19, 0, 0, TimeSpan.Zero);

    public static ProcessSheet Sheet { get; } = ShippedSheets.Get("c41");

    public static ImmutableArray<StripPoint> Points(int count, int seed)
    {
        ImmutableArray<Aim> aims = [.. Sheet.Layout.Patches.SelectMany(
            p => Channels.Colours.Select(c => new Aim(p.Key, c, DemoFilm.Aims[p.Key][c], 0, 0.002)))];
        return [.. Enumerable.Range(0, count).Select(i => Point(i, seed, aims))];
    }

    private static StripPoint Point(int index, int seed, ImmutableArray<Aim> aims)
    {
        var (strip, chance, at) = (FilmStories.OnAim.Strip(seed, index), new SeededChance(seed + 1, index), Start.AddHours(index));
        ImmutableArray<PatchReads> patches =
            [.. Sheet.Layout.Patches.Select(p => new PatchReads(
                p, [.. Enumerable.Range(0, 3).Select(_ => new PatchRead(Reading.Entered(strip.Read(p.Key, chance, 2), at)))]))];
        var record = new StripRecord(
            Guid.CreateVersion7(at), "2417", Sheet.Layout,
            Sheet, patches, PatchMeans.Of(patches), aims, new Provenance(at, "staff", null), Revision.First("staff", at, "read"));
        return new StripPoint
        {
            StripId = record.Id,
            At = at,
            Lot = "2417",
            Judgement = StripJudge.Judge(record),
            Line = "dip tank",
            Bottle = FormattableString.Invariant($"D{index / 40}"),
            AgeDays = index % 40 / 2.0,
        };
    }
}
