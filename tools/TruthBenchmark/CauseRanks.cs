using Acquire.Analysis.Causes;
using Acquire.Formats.ProcessSheets;
using Acquire.Instruments.Simulation;

namespace TruthBenchmark;

/// <summary>
/// Strips of the fault stories at one and a half times their action limit: whether the right cause, and its family, come first or among the
/// first three, by the strip alone. The stories' numbers are not those of the signatures.
/// </summary>
internal static class CauseRanks
{
    private static readonly DateTimeOffset Time = new(2026, 3, 1, 20, 0, 0, TimeSpan.Zero);
    private static readonly ProcessSheet Sheet = ShippedSheets.Get("c41");

    private static readonly Dictionary<string, string> SignatureOf = new()
    {
        ["hot-developer"] =
            "developer-hot", ["cold-developer"] = "developer-cold", ["over-time"] = "over-time", ["under-time"] = "under-time",
        ["exhausted"] = "developer-exhausted", ["oxidised"] =
            "developer-oxidised", ["over-concentrated"] = "developer-concentrated", ["over-diluted"] = "developer-diluted",
        ["over-replenished"] = "over-replenished", ["under-replenished"] =
            "under-replenished", ["high-ph"] = "developer-ph-high", ["low-ph"] = "developer-ph-low",
        ["poor-agitation"] = "agitation-low", ["excess-agitation"] =
            "agitation-high", ["bleach-in-developer"] = "bleach-in-developer", ["fixer-in-developer"] = "fixer-in-developer",
        ["acid-in-developer"] = "acid-in-developer", ["retained-silver"] =
            "retained-silver", ["leuco-cyan"] = "leuco-cyan", ["bleach-fix-used-up"] = "bleach-fix-used-up",
        ["exhausted-fixer"] =
            "fixer-exhausted", ["sensitising-dye"] = "sensitising-dye", ["poor-wash"] = "poor-wash", ["light-fog"] = "strip-light-fog",
        ["age-fog"] = "strip-age-fog", ["latent-image-loss"] = "latent-image-loss",
    };

    public static void Print(int trials, int seed)
    {
        Table.Title($"Causes at 1.5 × the action limit, {trials} strips each, seed {seed}, three reads, s 0.006: share of strips");
        Table.Row("fault", "family 1st", "in first 3", "cause 1st", "in first 3", "nothing said");
        var all = new List<(double, double, double, double, double)>();
        foreach (var story in FaultStories.All)
        {
            var row = Row(story, trials, seed);
            all.Add(row);
            Table.Row(story.Name, row.Item1, row.Item2, row.Item3, row.Item4, row.Item5);
        }

        Table.Row(
            "all",
            all.Average(r => r.Item1),
            all.Average(r => r.Item2),
            all.Average(r => r.Item3),
            all.Average(r => r.Item4),
            all.Average(r => r.Item5));
        var quiet = new int[10 * trials];
        Parallel.For(
            0,
            quiet.Length,
            i => quiet[i] = Study(FilmStories.OnAim, 1, new SeededChance(seed + 1, i), seed + 1, i).NothingHappened ? 1 : 0);
        Table.Row("nothing wrong: nothing said", quiet.Average());
    }

    private static (double, double, double, double, double) Row(FilmStory story, int trials, int seed)
    {
        var right = FaultSignatures.All.Single(s => s.Key == SignatureOf[story.Name]);
        var (family, size) = (right.Family, 1.5 / Share(story));
        var counts = new int[5];
        Parallel.For(0, trials, i =>
        {
            var study = Study(story, size, new SeededChance(seed, i), seed, i);
            var families = study.Groups.Select(g => g.Family).ToList();
            var causes = study.Ranked.Select(c => c.Signature.Key).ToList();
            Interlocked.Add(ref counts[0], families.IndexOf(family) == 0 ? 1 : 0);
            Interlocked.Add(ref counts[1], families.IndexOf(family) is >= 0 and < 3 ? 1 : 0);
            Interlocked.Add(ref counts[2], causes.IndexOf(right.Key) == 0 ? 1 : 0);
            Interlocked.Add(ref counts[3], causes.IndexOf(right.Key) is >= 0 and < 3 ? 1 : 0);
            Interlocked.Add(ref counts[4], study.NothingHappened ? 1 : 0);
        });
        double n = trials;
        return (counts[0] / n, counts[1] / n, counts[2] / n, counts[3] / n, counts[4] / n);
    }

    /// <summary>How much of an action limit the story reaches, in the parameter that it moves most against its limit.</summary>
    private static double Share(FilmStory story)
    {
        Rgb Of(string key) => story.Patches.Single(p => p.Patch.Key == key).Effect;
        var shares = Channels.Colours.SelectMany(c => new[]
        {
            Math.Max(0, Of(DemoFilm.DMin)[c])
                / 0.03, Math.Abs(Of(DemoFilm.Low)[c]) / 0.06, Math.Abs(Of(DemoFilm.High)[c] - Of(DemoFilm.Low)[c]) / 0.07,
        });
        return shares.Append(Math.Max(0, Of(DemoFilm.DMax).Blue - Of(DemoFilm.Yellow).Blue) / 0.10).Max();
    }

    private static CauseStudy Study(FilmStory story, double size, SeededChance chance, int seed, int index)
    {
        var strip = (story with {
            Patches = [.. story.Patches.Select(p => p with { Effect = size * p.Effect })],
            Noise = new FilmNoise { Placement = 0.0042, Reading = 0.0042 } }).Strip(seed, index);
        ImmutableArray<PatchReads> patches =
            [.. Sheet.Layout.Patches.Select(p => new PatchReads(
                p, [.. Enumerable.Range(0, 3).Select(_ => new PatchRead(Reading.Entered(strip.Read(p.Key, chance, 2), Time)))]))];
        var record = new StripRecord(
            Guid.CreateVersion7(Time), "2417", Sheet.Layout, Sheet, patches, PatchMeans.Of(patches),
            [.. Sheet.Layout.Patches.SelectMany(p => Channels.Colours.Select(c => new Aim(p.Key, c, DemoFilm.Aims[p.Key][c], 0, 0.002)))],
            new Provenance(Time, "staff", null), Revision.First("staff", Time, "read"));
        return CauseStudy.Of(record, CauseContext.None);
    }
}
