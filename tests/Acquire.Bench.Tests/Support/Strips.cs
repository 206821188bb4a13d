using Acquire.Analysis.Gauge;
using Acquire.Analysis.ProcessSheets;
using Acquire.Analysis.StripWork;
using Acquire.Bench.Lots;

namespace Acquire.Bench.Tests.Support;

/// <summary>Whole strip records, judged by the C-41 sheet.</summary>
internal static class Strips
{
    public static readonly ProcessSheet Sheet = ShippedSheets.Get("c41");

    private static readonly Provenance Read = new(Some.Moment, "staff", null);

    /// <summary>A lot whose aims are so much above the usual.</summary>
    public static LotEntry Lot(string code = "4410", decimal above = 0, StripLayout? layout = null)
    {
        var lot = new StripLot(code, "c41", layout ?? Sheet.Layout);
        var reference = new LotReference(
            Guid.CreateVersion7(Some.Moment), code, Patches(lot.Layout, above, 1), Read, Revision.First("staff", Some.Moment, "read"));
        return new LotEntry(lot, Sheet, new LotPast(lot, [reference], [], new TestsInForce([])).Newest);
    }

    public static StripRecord Strip(LotEntry? lot = null)
    {
        lot ??= Lot();
        var patches = Patches(lot.Lot.Layout, 0.01m, 3);
        return new StripRecord(
            Guid.CreateVersion7(Some.Moment), lot.Lot.Code, lot.Lot.Layout, Sheet, patches, PatchMeans.Of(patches), lot.InForce.Aims, Read,
            Revision.First("staff", Some.Moment, "read at the bench"))
        {
            ReferenceId = lot.Reference!.Id,
            Tags = new StripTags { Line = "dip tank", Bottle = "D7" },
        };
    }

    private static ImmutableArray<PatchReads> Patches(StripLayout layout, decimal above, int reads) =>
    [
        .. layout.Patches.Select((p, i) => new PatchReads(p, [.. Enumerable.Range(0, reads).Select(n => new PatchRead(Reading.Entered(
            ChannelDensities.Rgb(0.20m + (0.5m * i) + above + (0.01m * n), 0.60m + (0.5m * i), 0.80m + (0.5m * i)), Some.Moment)))])),
    ];
}
