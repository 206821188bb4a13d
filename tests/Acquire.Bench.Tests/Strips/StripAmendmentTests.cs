using Acquire.Bench.Strips;

namespace Acquire.Bench.Tests.Strips;

public sealed class StripAmendmentTests
{
    private static readonly DateTimeOffset Later = Some.Moment.AddDays(2);

    private static readonly StripAmendment Plain = new("wrong label", "evening class");

    [Fact]
    public void Amended_text_keeps_everything_else_and_says_who_when_and_why()
    {
        var strip = Support.Strips.Strip();
        var amended = (Plain with { Tags = tags => tags with { Bottle = "D8", Line = null } }).Apply(strip, Later);

        Assert.Equal(
            (2, "evening class", Later, "wrong label"),
            (amended.Revision.Number, amended.Revision.By, amended.Revision.At, amended.Revision.Reason));
        Assert.Equal(("D8", null), (amended.Tags.Bottle, amended.Tags.Line));
        Assert.Equal(strip.Aims, amended.Aims);
        Assert.Equal(strip.Means, amended.Means);
        Assert.Equal((strip.Id, strip.ReferenceId, strip.Provenance), (amended.Id, amended.ReferenceId, amended.Provenance));
        Assert.Equal(
            [new FieldChange("line", "dip tank", null), new FieldChange("bottle", "D7", "D8")], RevisionChanges.Between(strip, amended));
    }

    /// <summary>LD red was read 0.71, 0.72, 0.73; without the last the mean is 0.715.</summary>
    [Fact]
    public void Read_left_out_changes_its_mean_only_and_comes_back_when_it_counts_again()
    {
        var strip = Support.Strips.Strip();
        var without = (Plain with { Excluded = [(new ReadPlace("LD", 3), "scratch")] }).Apply(strip, Later);

        Assert.Equal(0.72, strip.Mean("ld", Channel.Red)!.Mean, 1e-12);
        Assert.Equal(0.715, without.Mean("ld", Channel.Red)!.Mean, 1e-12);
        Assert.Equal(strip.Mean("hd", Channel.Red), without.Mean("hd", Channel.Red));
        Assert.Equal(new Exclusion("scratch", Later), without.Patches[1].Reads[2].Exclusion);
        Assert.Equal(strip.Aims, without.Aims);
        var back = (Plain with { Included = [new ReadPlace("ld", 3)] }).Apply(without, Later);
        Assert.Equal(strip.Means, back.Means);
        Assert.Equal(3, back.Revision.Number);
    }

    [Fact]
    public void Patch_left_out_has_no_mean_and_keeps_its_reads()
    {
        var amended = (Plain with { Excluded = [(new ReadPlace("yellow", null), "fingerprint")] }).Apply(Support.Strips.Strip(), Later);

        Assert.Null(amended.Mean("yellow", Channel.Blue));
        Assert.Equal(3, amended.Patches[4].Reads.Length);
        Assert.Equal("fingerprint", amended.Patches[4].LeftOut!.Reason);
    }

    [Fact]
    public void Other_lot_brings_its_aims_and_reference()
    {
        var strip = Support.Strips.Strip();
        var other = Support.Strips.Lot("4512", above: 0.05m);
        var amended = (Plain with { Lot = other }).Apply(strip, Later);

        Assert.Equal(("4512", other.Reference!.Id), (amended.LotCode, amended.ReferenceId));
        Assert.Equal(0.75, amended.Aim("ld", Channel.Red)!.Value, 1e-12);
        Assert.Equal(0.70, strip.Aim("ld", Channel.Red)!.Value, 1e-12);
        Assert.Equal(strip.Means, amended.Means);
    }

    [Fact]
    public void Amendment_that_cannot_be_is_refused()
    {
        var strip = Support.Strips.Strip();

        Assert.Throws<BenchException>(() => Plain.Apply(strip, Later));
        Assert.Throws<BenchException>(() => (Plain with { Tags = tags => tags with { Line = "dip tank" } }).Apply(strip, Later));
        Assert.Throws<BenchException>(() => (Plain with { Included = [new ReadPlace("ld", 2)] }).Apply(strip, Later));
        Assert.Throws<BenchException>(() => (Plain with { Excluded = [(new ReadPlace("ld", 4), "x")] }).Apply(strip, Later));
        Assert.Throws<ImpossibleValueException>(() => (Plain with { Excluded = [(new ReadPlace("sky", 1), "x")] }).Apply(strip, Later));
        Assert.Throws<ImpossibleValueException>(
            () => (Plain with { Reason = " ", Tags = tags => tags with { Bottle = "x" } }).Apply(strip, Later));
        var narrow = Support.Strips.Lot("9", layout: new StripLayout("short", Support.Strips.Sheet.Layout.Patches[..3]));
        Assert.Contains(
            "other patches",
            Assert.Throws<BenchException>(() => (Plain with { Lot = narrow }).Apply(strip, Later)).Message,
            StringComparison.Ordinal);
    }
}
