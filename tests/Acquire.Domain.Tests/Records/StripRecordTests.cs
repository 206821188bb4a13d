using static Acquire.Domain.Tests.Assertions;

namespace Acquire.Domain.Tests.Records;

public class StripRecordTests
{
    private static readonly ImmutableArray<PatchReads> Patches = [Some.Reads("dmin", 0.26m), Some.Reads("ld", 0.46m), Some.Reads("hd")];
    private static readonly PatchMean LdMean = new("ld", Channel.Red, 0.46, 1, null, 0.01);
    private static readonly Aim LdAim = new("ld", Channel.Red, 0.45, 0, 0.003);

    private static StripRecord Record(
        ImmutableArray<PatchReads>? patches = null, ImmutableArray<PatchMean> means = default, ImmutableArray<Aim> aims = default, string lot = "1204") =>
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

    [Fact]
    public void Revisions_count_from_one_and_say_who_and_why()
    {
        Assert.Equal(new Revision(1, "evening class", Some.Time, "read"), Some.Revision);
        Refused("count from 1", () => new Revision(0, "staff", Some.Time, "wrong patch"));
        Refused("The person of a revision", () => new Revision(2, "", Some.Time, "wrong patch"));
        Refused("The reason of a revision", () => new Revision(2, "staff", Some.Time, " "));
    }
}
