using Acquire.Analysis.Gauge;
using Acquire.Analysis.StripWork;
using Acquire.Formats.ProcessSheets;
using TruthBenchmark.World;

namespace TruthBenchmark.Product;

/// <summary>Turns what a user wrote down into the records that the product keeps, by the steps that reading and importing take.</summary>
internal static class Records
{
    private const string Profile = "bench";
    private static readonly InstrumentInUse Instrument = new(Profile, "0000", "line");

    public static ProcessSheet Sheet { get; } = ShippedSheets.Get("c41");

    /// <summary>The same sheet with the spread left without a limit: its value stays, and its verdict falls away.</summary>
    public static ProcessSheet SheetOfHistories { get; } = new(
        Sheet.Key, Sheet.Name, Sheet.Status, Sheet.Layouts, [.. Sheet.Parameters.Select(p => p is SpreadParameter s
            ? new SpreadParameter(s.Key, s.Name, s.StandsFor, s.OfKey, ParameterLimits.None)
            : p)]);

    public static StripLayout Layout => Sheet.Layout;

    public static TestsInForce Tests(House house) => new([.. house.Tests.Select((t, i) => new RepeatabilityTest(
        Id(t.At, 1, i), Patches(t.Reads, t.At), 1, 0.03, passed: true, new Provenance(t.At, "staff", Instrument)))]);

    /// <param name="ofTable">Whether it was typed without a word of how it was read.</param>
    public static LotPast Lot(LotFacts facts, int number, TestsInForce tests, bool ofTable)
    {
        var reference = facts.Reference;
        // A reference that was typed names no instrument, but says what its values rest on.
        var typed = ofTable || reference.Origin != Origin.Instrument;
        var read = new LotReference(
            Id(reference.At, 2, number),
            facts.Code,
            Patches(reference.Reads, reference.At),
            new Provenance(reference.At, "staff", typed ? null : Instrument),
            Revision.First("staff", reference.At, "read"))
        {
            Origin = ofTable ? null : reference.Origin switch
            {
                Origin.Typed => ReferenceOrigin.Read(reference.ReadsBehind, Profile),
                Origin.MakersList => ReferenceOrigin.FromList(reference.ListError),
                _ => null,
            },
        };
        return new LotPast(new StripLot(facts.Code, Sheet.Key, Layout), [read], [], tests);
    }

    /// <param name="ofTable">Whether it came in a table, which names no instrument.</param>
    public static StripRecord Strip(StripFacts facts, int number, ProcessSheet sheet, LotPast lot, TestsInForce tests, bool ofTable)
    {
        var patches = Patches(facts.Reads, facts.At);
        var inForce = lot.At(facts.At);
        return new StripRecord(
            Id(facts.At, 3, number),
            facts.Lot,
            Layout,
            sheet,
            patches,
            PatchMeans.Of(patches),
            inForce.Aims,
            new Provenance(facts.At, "staff", ofTable ? null : Instrument),
            Revision.First("staff", facts.At, "read"))
        {
            ReferenceId = inForce.Reference?.Id,
            Repeatability = ofTable ? null : tests.Until(facts.At, Profile),
            Tags = StripTags.None with { Bottle = facts.Bottle, Line = "dip tank" },
        };
    }

    public static Ledger Books(House house) => new(house.Bottles.SelectMany((b, i) => Bottle(b, i)));

    private static IEnumerable<BookEntry> Bottle(BottleFacts facts, int number)
    {
        var mix = new Solution(Stamp(4), $"mix of {facts.Name}", SolutionKind.Developer, Sheet.Key, 1);
        yield return mix;
        yield return new Bottle(Stamp(5), facts.Name, mix.Id, 1, new BottleStorage());

        EntryStamp Stamp(int kind) => new(Id(facts.Mixed, kind, number), facts.Mixed, facts.Mixed, "staff");
    }

    private static ImmutableArray<PatchReads> Patches(ImmutableArray<ImmutableArray<Shown>> reads, DateTimeOffset at) =>
    [
        .. Layout.Patches.Select((p, i) => new PatchReads(p, [.. reads[i].Select(r => new PatchRead(
            Reading.Entered(ChannelDensities.Rgb(r.Red, r.Green, r.Blue), at)))])),
    ];

    // Ids are not drawn: the same house gives the same records.
    private static Guid Id(DateTimeOffset at, int kind, int number) =>
        new((int)(at - DateTimeOffset.UnixEpoch).TotalHours, (short)kind, 0, BitConverter.GetBytes((long)number));
}
