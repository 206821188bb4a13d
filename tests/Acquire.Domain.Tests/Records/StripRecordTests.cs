using static Acquire.Domain.Tests.Assertions;

namespace Acquire.Domain.Tests.Records;

public class StripRecordTests
{
    private static readonly ImmutableArray<PatchReads> Patches = [Some.Reads("dmin", 0.26m), Some.Reads("ld", 0.46m), Some.Reads("hd")];
    private static readonly PatchMean LdMean = new("ld", Channel.Red, 0.46, 1, null, 0.01);
    private static readonly Aim LdAim = new("ld", Channel.Red, 0.45, 0, 0.003);

    private static StripRecord Record(
        ImmutableArray<PatchReads>? patches = null,
        ImmutableArray<PatchMean> means = default, ImmutableArray<Aim> aims = default, string lot = "1204") =>
        new(Guid.Empty, lot, Some.Layout, Some.Sheet, patches ?? Patches, means, aims, Some.Provenance, Some.Revision);

    [Fact]
    public void Mean_and_aim_are_found_by_patch_key_in_any_case_and_channel()
    {
        var record = Record(means: [LdMean], aims: [LdAim]);

        Assert.Equal((LdMean, LdAim), (record.Mean("LD", Channel.Red), record.Aim("LD", Channel.Red)));
        Assert.Null(record.Mean("ld", Channel.Green));
        Assert.Null(record.Aim("hd", Channel.Red));
    }

    [Fact]
    public void Record_without_means_and_aims_has_empty_ones()
    {
        Assert.Empty(Record().Means);
        Assert.Empty(Record().Aims);
    }

    [Fact]
    public void Patches_must_be_those_of_the_layout_in_its_order()
    {
        Refused("in its order", () => Record(Patches.RemoveAt(2)));
        Refused("in its order", () => Record([Patches[1], Patches[0], Patches[2]]));
        Refused("must not be empty", () => Record([]));
    }

    [Fact]
    public void Mean_or_aim_of_an_unknown_patch_is_refused()
    {
        Refused("has no patch 'D-min'", () => Record(means: [new PatchMean("D-min", Channel.Red, 0.26, 1, null, 0.01)]));
        Refused("has no patch 'dmax'", () => Record(aims: [new Aim("dmax", Channel.Red, 2, 0, 0)]));
    }

    [Fact]
    public void Two_means_or_aims_of_one_patch_and_channel_are_refused()
    {
        Refused("The mean 'ld red' is named twice.", () => Record(means: [LdMean, LdMean]));
        Refused("The aim 'ld red' is named twice.", () => Record(aims: [LdAim, LdAim]));
    }

    [Fact]
    public void Record_without_a_lot_is_refused() => Refused("The lot of a strip", () => Record(lot: ""));

    /// <summary>A changed copy is proved like a new record, in whatever order its parts are changed.</summary>
    [Fact]
    public void Copy_that_cannot_be_is_refused()
    {
        var record = Record(means: [LdMean], aims: [LdAim]);
        var renamed = new StripLayout("other name", Some.Layout.Patches);

        Assert.Equal(record.Patches, (record with { Layout = renamed, Patches = Patches }).Patches);
        Assert.Equal("4410", (record with { LotCode = " 4410 ", Patches = Patches, Layout = renamed }).LotCode);
        Assert.Empty((record with { Means = default }).Means);
        Refused("The lot of a strip", () => record with { LotCode = " " });
        Refused("needs a layout", () => record with { Layout = null! });
        Refused("needs the process sheet", () => record with { JudgedBy = null! });
        Refused("has a revision", () => record with { Revision = null! });
        Refused("by somebody", () => record with { Provenance = null! });
        Refused("in its order", () => record with { Patches = Patches.RemoveAt(2) });
        Refused("in its order", () => record with { Layout = new StripLayout("short", Some.Layout.Patches[..2]) });
        Refused("has no patch 'dmax'", () => record with { Aims = [new Aim("dmax", Channel.Red, 2, 0, 0)] });
        Refused("The mean 'ld red' is named twice.", () => record with { Means = [LdMean, LdMean] });
    }

    [Fact]
    public void Strip_cannot_refer_to_itself_nor_be_read_again_by_half()
    {
        var record = Record();
        StripTags[] own = [
            new() { Confirms = record.Id }, new() { PairedWith = record.Id }, new() { Reread = new Reread(record.Id, Treatment.None) }];
        var other = Guid.CreateVersion7();

        Assert.All(own, tags => Refused("cannot refer to itself", () => record with { Tags = tags }));
        Refused("cannot refer to itself", () => record with { Tags = new StripTags { Confirms = other }, Id = other });
        Refused("both the earlier record", () => Reread.Join(other, null));
        Refused("both the earlier record", () => Reread.Join(null, Treatment.ReFix));
        Assert.Null(Reread.Join(null, null));
    }

    [Fact]
    public void Revisions_count_from_one_and_say_who_and_why()
    {
        Assert.Equal(new Revision(1, "evening class", Some.Time, "read"), Some.Revision);
        Refused("count from 1", () => new Revision(0, "staff", Some.Time, "wrong patch"));
        Refused("The person of a revision", () => new Revision(2, "", Some.Time, "wrong patch"));
        Refused("The reason of a revision", () => new Revision(2, "staff", Some.Time, " "));
    }
}
