using Acquire.Instruments.Lines;
using Acquire.Instruments.ProfileFiles;

namespace Acquire.Instruments.Tests.Lines;

/// <summary>A channel that was lost on an instrument without labels, and the next measurement taken before the time-out.</summary>
public sealed class ReadingPaceTests
{
    private static readonly DateTimeOffset Start = new(2026, 3, 2, 18, 0, 0, TimeSpan.Zero);

    [Fact]
    public void Reading_made_of_two_measurements_is_doubted()
    {
        // Blue of the first measurement is lost; red of the next comes 1.2 s later and takes its place.
        var events = Interpret((0, "0.26"), (60, "0.62"), (1260, "1.26"), (1320, "1.74"), (1380, "2.00"));

        var taken = Assert.IsType<InstrumentEvent.ReadingTaken>(events[2]);
        Assert.Contains(
            "Line 3 of this reading came 1.2 s after the one before, the others follow within 0.06 s",
            taken.Note,
            StringComparison.Ordinal);
        Assert.Contains("read the patch again", taken.Note, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0, 0)]
    [InlineData(60, 60)]
    [InlineData(16, 190)]
    [InlineData(600, 700)]
    [InlineData(300, 850)]
    public void Reading_at_a_pace_an_instrument_may_have_is_not_doubted(int first, int second) =>
        Assert.All(Interpret((0, "0.26"), (first, "0.62"), (first + second, "0.80")), e => Assert.Null(e.Note));

    [Fact]
    public void Pause_that_comes_again_alike_is_the_instruments_own()
    {
        var events = Interpret(
            (0, "0.26"), (60, "0.62"),
            (1060, "0.80"), (9000, "0.26"), (9060, "0.62"), (10080, "0.80"), (18000, "0.26"), (18060, "0.62"), (18660, "0.80"));

        Assert.NotNull(events[2].Note);
        Assert.Null(events[5].Note);
        Assert.NotNull(events[8].Note);
    }

    /// <summary>Whichever line is lost and whoever presses the key, the first reading of two measurements is doubted.</summary>
    [Fact]
    public void First_reading_after_a_lost_line_is_doubted() =>
        Gen.Select(Gen.Int[0, 2], Gen.Int[1, 90], Gen.Int[455, 1300].Array[4]).Sample((lost, line, hands) =>
        {
            var (at, lines) = (0, new List<(int At, string Text)>());
            for (var measurement = 0; measurement < 4; measurement++)
            {
                for (var channel = 0; channel < 3; channel++)
                {
                    at += line;
                    if (measurement != 1 || channel != lost)
                    {
                        lines.Add((at, string.Create(CultureInfo.InvariantCulture, $"{measurement}.{channel}0")));
                    }
                }

                at += hands[measurement];
            }

            var mixed = Interpret([.. lines]).OfType<InstrumentEvent.ReadingTaken>().First(r => Measurements(r.Reading) > 1);
            Assert.NotNull(mixed.Note);
        });

    private static int Measurements(Reading reading) => reading.Lines.Select(l => l.Text[0]).Distinct().Count();

    private static List<InstrumentEvent> Interpret(params (int At, string Text)[] lines)
    {
        var interpreter = new LineInterpreter(new ProfileLibrary(null).Find("channel-lines-plain"));
        return [.. lines.Select(l => interpreter.Interpret(RawLine.OfText(l.Text, Start.AddMilliseconds(l.At))))];
    }
}
