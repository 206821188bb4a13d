using Acquire.Analysis.Causes;
using Acquire.Formats.ProcessSheets;

namespace Acquire.Tests.Support;

/// <summary>
/// An invented season of the evening class in the dip tank: three bottles of developer kept full and three kept half full, four strips of
/// each, contrast falling the faster with air above the developer.
/// </summary>
internal static class AgeingSeason
{
    public static readonly DateTimeOffset Start = new(2026, 2, 2, 19, 0, 0, TimeSpan.Zero);

    public const double FullPerDay = -0.0015;
    public const double HalfFullPerDay = -0.0045;

    private static readonly ProcessSheet Sheet = ShippedSheets.Get("c41");

    private static readonly ImmutableArray<(string Key, double R, double G, double B)> Aim =
    [
        ("dmin",
            0.26,
            0.62,
            0.80), ("ld", 0.46, 0.84, 1.04), ("hd", 1.26, 1.74, 2.00), ("dmax", 2.12, 2.58, 2.92), ("yellow", 0.37, 0.88, 2.72),
    ];

    public static ProcessLine Tank { get; } = new(Stamp(-1), "dip tank", LineKind.DipTank, "c41");

    /// <summary>Puts the lot, the season's strips and its books into the store of a data folder.</summary>
    /// <param name="folder">The data folder.</param>
    /// <param name="filmsInHalf">
    /// Films that a bottle kept half full sees between two strips; a full one sees 4, and 2 are as many per litre.
    /// </param>
    /// <param name="cancellationToken">Stops it.</param>
    public static async Task FillAsync(string folder, int filmsInHalf, CancellationToken cancellationToken)
    {
        await using var store = await OpenAsync(folder, cancellationToken);
        var random = new Random(11);
        List<BookEntry> entries = [Tank];
        for (var i = 0; i < 6; i++)
        {
            var (isFull, mixed) = (i % 2 == 0, i * 27.0);
            var mix = new Solution(Stamp(mixed), $"dev{i + 1}", SolutionKind.Developer, "c41", 1);
            var bottle = new Bottle(Stamp(mixed + 0.01), $"D{i + 1}", mix.Id, isFull ? 1 : 0.5, new BottleStorage("glass", 1));
            entries.AddRange([mix, bottle]);
            foreach (var age in new[] { 1, 8, 15, 22 })
            {
                var moved = (isFull ? FullPerDay : HalfFullPerDay) * age;
                var strip = Strip(mixed + age, random, (key, _) => key is "hd" or "dmax" ? moved : 0, bottle.Name);
                await store.AddStripAsync(strip, cancellationToken);
                entries.Add(new FilmUse(
                    Stamp(mixed + age - 0.1), [new FilmCount("135-36", isFull ? 4 : filmsInHalf, 0.055)], [bottle.Id], Tank.Id));
            }

            if (i < 5)
            {
                entries.Add(new BottleEvent(Stamp(mixed + 26), bottle.Id, BottleEventKind.Discarded));
            }
        }

        await store.AddBookEntriesAsync([.. entries], cancellationToken);
    }

    /// <summary>Opens the store, the lot in it.</summary>
    public static async Task<AcquireStore> OpenAsync(string folder, CancellationToken cancellationToken)
    {
        var store = await EmptyStore.OpenAsync(folder, TimeProvider.System, cancellationToken);
        if (await store.FindLotAsync("2417", cancellationToken) is null)
        {
            await store.AddLotAsync(new StripLot("2417", "c41", Sheet.Layout), cancellationToken);
        }

        return store;
    }

    /// <summary>A strip with a fault of some size; none when the key is null.</summary>
    public static StripRecord Faulty(double day, string? fault, double size, StripRecord? rereadOf = null, Treatment? treatment = null) =>
        Strip(
            day,
            new Random(3),
            (key, channel) => fault is null ? 0 : size * FaultSignatures.All.Single(s => s.Key == fault).Size(key, channel),
            null,
            rereadOf,
            treatment);

    /// <summary>A strip whose patches were read once each, at two decimals.</summary>
    /// <param name="scatter">Standard deviation of a read.</param>
    public static StripRecord ReadOnce(double day, Random random, double scatter, string bottle)
    {
        var read = Strip(day, random, (_, _) => 0, bottle);
        ImmutableArray<PatchReads> patches = [.. Aim.Select(a => new PatchReads(
            Sheet.Layout.GetByKey(a.Key),
            [new PatchRead(Reading.Entered(ChannelDensities.Rgb(Shown(a.R), Shown(a.G), Shown(a.B)), read.Provenance.At))]))];
        return new StripRecord(
            read.Id, read.LotCode, read.Layout, read.JudgedBy, patches, PatchMeans.Of(patches), read.Aims, read.Provenance, read.Revision)
        {
            Tags = read.Tags,
        };

        decimal Shown(double aim) => Math.Round((decimal)(aim + (scatter * Bell())), 2) + 0.00m;

        double Bell() => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
    }

    public static StripRecord Strip(
        double day, Random random,
        Func<string, Channel, double> moved, string? bottle = null, StripRecord? rereadOf = null, Treatment? treatment = null)
    {
        var at = Start.AddDays(day);
        var run = 0.008 * (random.NextDouble() - 0.5);
        ImmutableArray<PatchReads> patches =
        [
            .. Aim.Select(a => new PatchReads(
                Sheet.Layout.GetByKey(a.Key),
                [
                    .. Enumerable.Range(0, 3).Select(_ => new PatchRead(Reading.Entered(
                        ChannelDensities.Rgb(
                            Shown(a.R, a.Key, Channel.Red), Shown(a.G, a.Key, Channel.Green), Shown(a.B, a.Key, Channel.Blue)), at))),
                ])),
        ];
        return new StripRecord(
            Guid.CreateVersion7(at),
            "2417",
            Sheet.Layout,
            Sheet,
            patches,
            PatchMeans.Of(patches),
            [.. from a in Aim
                from c in Channels.Colours select new Aim(a.Key, c, c == Channel.Red ? a.R : c == Channel.Green ? a.G : a.B, 0, 0.002)],
            new Provenance(at, "darkroom staff", null),
            Revision.First("darkroom staff", at, "read"))
        {
            Tags = new StripTags { Line = "dip tank", Bottle = bottle, Reread = Reread.Join(rereadOf?.Id, treatment) },
        };

        // Two digits, as a display shows them.
        decimal Shown(double aim, string key, Channel channel) =>
            Math.Round((decimal)(aim + moved(key, channel) + (key == "dmin" ? 0 : run) + (0.012 * (random.NextDouble() - 0.5))), 2) + 0.00m;
    }

    public static EntryStamp Stamp(double day) =>
        new(Guid.CreateVersion7(Start.AddDays(day)), Start.AddDays(day), Start.AddDays(day), "darkroom staff");
}
