using Acquire.Analysis.Causes;
using Acquire.Analysis.Tests.Statistics;
using Acquire.Formats.ProcessSheets;

namespace Acquire.Analysis.Tests.Causes;

/// <summary>Invented strips with a known fault.</summary>
internal static class FaultyStrips
{
    public static readonly ProcessSheet Sheet = ShippedSheets.Get("c41");

    private static readonly Dictionary<string, ColourSizes> OnAim = new(StringComparer.OrdinalIgnoreCase)
    {
        ["dmin"] = new(0.26, 0.62, 0.80), ["ld"] =
            new(0.46, 0.84, 1.04), ["hd"] = new(1.26, 1.74, 2.00), ["dmax"] = new(2.12, 2.58, 2.92), ["yellow"] = new(0.37, 0.88, 2.72),
    };

    /// <summary>A strip with a fault of some size, natural scatter and three reads of each patch.</summary>
    public static StripRecord With(
        FaultSignature? fault, double size, Random random, double sigma = 0.006, NaturalScatter? scatter = null, params string[] leftOut)
    {
        var natural = scatter ?? new NaturalScatter();
        var run = natural.Run * random.Normal();
        ImmutableArray<PatchReads> patches = [.. Sheet.Layout.Patches.Select(p => leftOut.Contains(p.Key) ? PatchReads.None(p) : Reads(p))];
        return new StripRecord(
            Guid.NewGuid(),
            "2417",
            Sheet.Layout,
            Sheet,
            patches,
            PatchMeans.Of(patches),
            [.. from p in Sheet.Layout.Patches from c in Channels.Colours select new Aim(p.Key, c, OnAim[p.Key][c], 0, 0.002)],
            new Provenance(new DateTimeOffset(2026, 3, 1, 20, 0, 0, TimeSpan.Zero), "staff", null),
            Revision.First("staff", new DateTimeOffset(2026, 3, 1, 20, 0, 0, TimeSpan.Zero), "read"));

        PatchReads Reads(Patch patch)
        {
            var own = Channels.Colours.ToDictionary(c => c, c => OnAim[patch.Key][c] + (size * (fault?.Size(patch.Key, c) ?? 0))
                + (run * NaturalScatter.ShareOf(patch.Key)) + (natural.Own * random.Normal()));
            return new PatchReads(
                patch,
                [
                    .. Enumerable.Range(0, 3).Select(_ => new PatchRead(Reading.Entered(
                        Densities(c => Math.Round((decimal)(own[c] + (sigma * random.Normal())), 2)),
                        new DateTimeOffset(2026, 3, 1, 20, 0, 0, TimeSpan.Zero)))),
                ]);
        }
    }

    /// <summary>The same strip with other values written down.</summary>
    /// <param name="written">Patch, colour and value to what stands there instead.</param>
    public static StripRecord Written(this StripRecord strip, Func<string, Channel, decimal, decimal> written)
    {
        ImmutableArray<PatchReads> patches =
        [
            .. strip.Patches.Select(p => new PatchReads(p.Patch, [.. p.Reads.Select(r => new PatchRead(Reading.Entered(
                Densities(c => written(p.Patch.Key, c, r.Reading.Densities[c]!.Value.Value)), r.Reading.At)))])),
        ];
        return new StripRecord(
            strip.Id, strip.LotCode, strip.Layout, strip.JudgedBy, patches, PatchMeans.Of(patches), strip.Aims, strip.Provenance,
            strip.Revision);
    }

    /// <summary>The aim of a cell.</summary>
    public static double AimOf(string patch, Channel channel) => OnAim[patch][channel];

    private static ChannelDensities Densities(Func<Channel, decimal> of) =>
        ChannelDensities.Rgb(of(Channel.Red), of(Channel.Green), of(Channel.Blue));
}
