using Acquire.Analysis.Judgement;
using Acquire.Formats.ProcessSheets;

namespace Acquire.Tests.Support;

/// <summary>
/// An invented season of the evening class: a strip every third day in the dip tank, contrast falling late, a new lot near the end.
/// </summary>
internal static class ChartHistory
{
    public static readonly DateTimeOffset Start = new(2026, 1, 12, 19, 10, 0, TimeSpan.Zero);

    private static readonly ImmutableArray<(string Key, double R, double G, double B)> Aim =
    [
        ("dmin",
            0.26,
            0.62,
            0.80), ("ld", 0.46, 0.84, 1.04), ("hd", 1.26, 1.74, 2.00), ("dmax", 2.12, 2.58, 2.92), ("yellow", 0.37, 0.88, 2.72),
    ];

    public static ProcessSheet Sheet { get; } = ShippedSheets.Get("c41");

    /// <summary>The strips of the season.</summary>
    /// <param name="count">How many.</param>
    /// <param name="leaveOut">Index of a strip whose D-max was torn; none when negative.</param>
    public static ImmutableArray<StripRecord> Strips(int count, int leaveOut = -1)
    {
        var random = new Random(7);
        return [.. Enumerable.Range(0, count).Select(i => Strip(i, count, random, i == leaveOut))];
    }

    /// <summary>Puts lots, references and strips into the store of a data folder.</summary>
    public static async Task FillAsync(string folder, IReadOnlyCollection<StripRecord> strips, CancellationToken cancellationToken)
    {
        await using var store = await EmptyStore.OpenAsync(folder, TimeProvider.System, cancellationToken);
        foreach (var lot in strips.Select(s => s.LotCode).Distinct())
        {
            await store.AddLotAsync(new StripLot(lot, "c41", Sheet.Layout), cancellationToken);
            await store.AddReferenceAsync(Reference(lot), cancellationToken);
        }

        foreach (var strip in strips)
        {
            await store.AddStripAsync(strip, cancellationToken);
        }
    }

    private static StripRecord Strip(int i, int count, Random random, bool isTorn)
    {
        var at = Start.AddDays(i * 3).AddMinutes(i * 7 % 50);
        var late = Math.Max(0, i - (count * 0.6)) / Math.Max(1, count * 0.4);
        double Move(string key, int channel) =>
            (key is "hd" or "dmax"
                ? -0.11 * late * (channel == 0 ? 1.1 : channel == 2 ? 0.7 : 1)
                : key == "ld" ? -0.045 * late : 0.008 * late)
            + (0.012 * (random.NextDouble() - 0.5) * (key == "dmin" ? 0.5 : 2));
        var patches = Aim.Select(a =>
        {
            var level = (R: a.R + Move(a.Key, 0), G: a.G + Move(a.Key, 1), B: a.B + Move(a.Key, 2));
            var reads = Enumerable.Range(0, 3).Select(_ => new PatchRead(Reading.Entered(
                ChannelDensities.Rgb(Shown(level.R, random), Shown(level.G, random), Shown(level.B, random)), at)));
            return new PatchReads(Sheet.Layout.GetByKey(a.Key), [.. reads], isTorn && a.Key == "dmax" ? new Exclusion("torn", at) : null);
        }).ToImmutableArray();
        var lot = i < count * 0.8 ? "2417" : "2611";
        var reference = Reference(lot);
        return new StripRecord(
            Guid.CreateVersion7(at), lot, Sheet.Layout, Sheet, patches, PatchMeans.Of(patches), Aims.Of(
                new StripLot(lot, "c41", Sheet.Layout), reference),
            new Provenance(at, "darkroom staff", null), Revision.First("darkroom staff", at, "read"))
        {
            Tags = new StripTags { Line = "dip tank", Bottle = i < count / 2 ? "D7" : "D8" },
        };
    }

    private static LotReference Reference(string lot) => new(
        new Guid(int.Parse(lot, System.Globalization.CultureInfo.InvariantCulture), 0, 0, new byte[8]),
        lot,
        [.. Aim.Select(a => new PatchReads(
            Sheet.Layout.GetByKey(a.Key),
            [.. Enumerable.Range(0, 3).Select(
                i => new PatchRead(Reading.Entered(ChannelDensities.Rgb(TwoDigits(a.R), TwoDigits(a.G), TwoDigits(a.B)), Start)))]))],
        new Provenance(Start, "darkroom staff", null),
        Revision.First("darkroom staff", Start, "read"));

    private static decimal Shown(double density, Random random) => TwoDigits(density + (0.012 * (random.NextDouble() - 0.5)));

    /// <summary>As a display shows it: 2.00 and not 2, for its last digit counts.</summary>
    private static decimal TwoDigits(double density) => Math.Round((decimal)density, 2) + 0.00m;
}
