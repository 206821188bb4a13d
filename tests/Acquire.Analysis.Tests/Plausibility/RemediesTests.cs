using Acquire.Analysis.Plausibility;
using Acquire.Analysis.Tests.Judgement;

namespace Acquire.Analysis.Tests.Plausibility;

public class RemediesTests
{
    private static readonly ImmutableArray<PatchReads> Patches =
    [
        .. Strip.Read(Strip.OnAim).Select((p, i) => i == 1
            ? p with { Reads = p.Reads.SetItem(0, p.Reads[0] with { Exclusion = new Exclusion("dust", Some.Time) }) }
            : i == 3 ? p with { LeftOut = new Exclusion("scratched", Some.Time) } : p),
    ];

    [Fact]
    public void Order_keeps_every_read_line_and_reason_and_gives_a_note() =>
        Gen.Shuffle(Enumerable.Range(0, Patches.Length).ToArray()).Sample(order =>
        {
            var after = Remedies.Apply(new Remedy.ReorderPatches([.. order]), Patches, Some.Time);

            Assert.Equal(Patches.Select(p => p.Patch), after.Select(p => p.Patch));
            for (var i = 0; i < order.Length; i++)
            {
                Assert.Equal(Patches[order[i]].LeftOut, after[i].LeftOut);
                Assert.Equal(
                    Patches[order[i]].Reads.Select(r => (r.Reading, r.Exclusion)), after[i].Reads.Select(r => (r.Reading, r.Exclusion)));
                Assert.All(after[i].Reads, r => Assert.Equal(order[i] != i, r.Note is not null));
            }
        });

    [Fact]
    public void Turning_round_twice_changes_no_read()
    {
        var turn = new Remedy.ReorderPatches([4, 3, 2, 1, 0]);
        var twice = Remedies.Apply(turn, Remedies.Apply(turn, Patches, Some.Time), Some.Time);

        Assert.Equal(Bare(Patches), Bare(twice));
        Assert.Equal("read as D-min, moved to Yellow; read as Yellow, moved to D-min", twice[0].Reads[0].Note);
    }

    [Fact]
    public void Channels_go_where_they_belong_and_lines_stay()
    {
        var moves = new[] {
            new ChannelMove(Channel.Red, Channel.Blue),
            new ChannelMove(Channel.Blue, Channel.Green),
            new ChannelMove(Channel.Green, Channel.Red) };
        var after = Remedies.Apply(new Remedy.ExchangeChannels(["ld"], [.. moves]), Patches, Some.Time);

        Assert.Equal(Patches.RemoveAt(1), after.RemoveAt(1));
        foreach (var (before, now) in Patches[1].Reads.Zip(after[1].Reads))
        {
            Assert.All(moves, m => Assert.Equal(before.Reading.Densities[m.From], now.Reading.Densities[m.To]));
            Assert.Equal(before.Reading.Lines, now.Reading.Lines);
            Assert.Equal("channels exchanged: red to blue, blue to green, green to red", now.Note);
        }
    }

    [Fact]
    public void Reads_that_are_left_out_stay_with_the_reason_and_earlier_reasons_stay()
    {
        var again = Remedies.Apply(new Remedy.ReadPatchAgain(["ld"], "off by one step"), Patches, Some.Time.AddMinutes(1));
        var one = Remedies.Apply(new Remedy.LeaveOutRead(new ReadPlace("hd", 1), "triggered twice"), Patches, Some.Time);

        Assert.Equal(["dust", "off by one step", "off by one step"], again[1].Reads.Select(r => r.Exclusion?.Reason));
        Assert.Equal([null, "triggered twice", null], one[2].Reads.Select(r => r.Exclusion?.Reason));
        Assert.Equal(Bare(Patches), Bare(one));
    }

    [Fact]
    public void Remedy_for_the_user_to_do_changes_no_read()
    {
        Remedy[] others = [
            new Remedy.CheckZero(),
            new Remedy.CheckSlope(),
            new Remedy.WaitAndDry(),
            new Remedy.ChooseLot("1207"),
            new Remedy.SwitchInstrument("status M"),
            new Remedy.None()];

        Assert.All(others, r => Assert.Equal(Patches, Remedies.Apply(r, Patches, Some.Time)));
        Assert.All(others, r => Assert.False(r.ChangesReads()));
    }

    [Fact]
    public void Remedy_of_another_strip_is_refused()
    {
        Assert.Throws<ArgumentException>(() => Remedies.Apply(new Remedy.ReorderPatches([0, 1]), Patches, Some.Time));
        Assert.Throws<ArgumentException>(() => Remedies.Apply(new Remedy.ReorderPatches([0, 0, 1, 2, 3]), Patches, Some.Time));
        Assert.Throws<ArgumentException>(() => Remedies.Apply(new Remedy.ReadPatchAgain(["md"], "why"), Patches, Some.Time));
        Assert.Throws<ArgumentException>(() => Remedies.Apply(new Remedy.LeaveOutRead(new ReadPlace("hd", 3), "why"), Patches, Some.Time));
        Assert.Throws<ArgumentException>(() =>
            Remedies.Apply(new Remedy.ExchangeChannels(["hd"], [new ChannelMove(Channel.Red, Channel.Blue)]), Patches, Some.Time));
    }

    private static IEnumerable<(string Key, Reading Reading)> Bare(ImmutableArray<PatchReads> patches) =>
        patches.SelectMany(p => p.Reads.Select(r => (p.Patch.Key, r.Reading)));
}
