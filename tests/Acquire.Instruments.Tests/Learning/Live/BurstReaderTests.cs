using Acquire.Instruments.Captures;
using Acquire.Instruments.Learning;
using Acquire.Instruments.Links;
using Acquire.Instruments.Tests.Links;

namespace Acquire.Instruments.Tests.Learning.Live;

public class BurstReaderTests
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(30);
    private static readonly TimeSpan Quiet = TimeSpan.FromSeconds(1.2);
    private readonly ImpatientClock _clock = new();

    [Fact]
    public async Task Each_press_is_one_burst_with_its_pauses()
    {
        var (instrument, reader) = await OpenAsync([["0.26 ", "0.62 ", "0.80"], [], ["1.26 1.74 2.01"]]);
        await using (reader)
        {
            instrument.Press();
            var first = await NextAsync(reader);
            instrument.Press();
            var none = await NextAsync(reader);
            instrument.Press();
            var last = await NextAsync(reader);

            Assert.Equal(["0.26 0.62 0.80"], first!.Lines());
            Assert.Equal(
                [TimeSpan.FromMilliseconds(8), TimeSpan.FromMilliseconds(8)],
                first.Chunks.Zip(first.Chunks.Skip(1), (a, b) => b.At - a.At));
            Assert.Null(none);
            Assert.Equal(["1.26 1.74 2.01"], last!.Lines());
            Assert.True(last.Chunks[0].At - first.Chunks[^1].At >= Quiet);
        }
    }

    [Fact]
    public async Task What_comes_while_nobody_waits_is_noticed_and_kept_apart()
    {
        var (instrument, reader) = await OpenAsync([["first"], ["second"], ["third"]]);
        await using (reader)
        {
            instrument.Press();
            _ = await NextAsync(reader);
            Assert.Null(await reader.SinceAsync(Quiet, TestContext.Current.CancellationToken));

            instrument.Press();
            var since = await reader.SinceAsync(Quiet, TestContext.Current.CancellationToken);
            instrument.Press();

            Assert.Equal(["second"], since!.Lines());
            Assert.Equal(["third"], (await NextAsync(reader))!.Lines());
        }
    }

    [Fact]
    public async Task Link_that_breaks_gives_the_fault_and_nothing_is_read_after_it_is_closed()
    {
        var (instrument, reader) = await OpenAsync([["0.26"]]);
        instrument.Press();
        _ = await NextAsync(reader);
        instrument.Press();

        await Assert.ThrowsAsync<LinkException>(() => NextAsync(reader));
        await reader.DisposeAsync();
        await reader.DisposeAsync();
    }

    [Theory]
    [InlineData("0.26 0.62 0.80", "0.26 0.62 0.80")]
    [InlineData("026,062,080", "0.26 0.62 0.80")]
    [InlineData("R 0,26\rG 0,62\rB 0,80", "0.26 0.62 0.80")]
    [InlineData("0.26 >4.0 0.80", "0.26 HI 0.80")]
    [InlineData("0.26 0.62 0.80", "0.26 0.63 0.81", "0.63", "0.81")]
    [InlineData("1.26 0.62 0.80", "0.26 0.62 0.80", "0.26")]
    // The 1 may be a counter that touches the first column; the proof decides.
    [InlineData("10.26 0.62 0.80", "0.26 0.62 0.80")]
    public void Shown_values_that_stand_nowhere_are_found(string came, string shown, params string[] absent)
    {
        var burst = new Burst([new CaptureChunk(_clock.GetUtcNow(), RawLine.OfText(came, _clock.GetUtcNow()).Bytes)], IsEndless: false);

        Assert.Equal(absent, SeenValues.Absent(ShownReading.Parse(shown, 3), burst).Select(v => v.ToString()));
    }

    private static Task<Burst?> NextAsync(BurstReader reader) => reader.NextAsync(Patience, Quiet, TestContext.Current.CancellationToken);

    private async Task<(KeyedInstrument Instrument, BurstReader Reader)> OpenAsync(IEnumerable<string[]> readings)
    {
        var instrument = new KeyedInstrument(_clock, new LinkSettings(), readings);
        var link = await instrument.OpenAsync(
            new LinkAddress.Serial("/dev/instrument"), new LinkSettings(), TestContext.Current.CancellationToken);
        return (instrument, new BurstReader(link, _clock));
    }
}
