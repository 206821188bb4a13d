namespace Acquire.Domain.Tests.Trust;

public sealed class InstrumentTests
{
    private static readonly Revision First = Revision.First("staff", new DateTimeOffset(2026, 3, 12, 19, 0, 0, TimeSpan.Zero), "added");

    [Fact]
    public void Instrument_in_use_goes_by_its_profile_until_it_has_a_name_of_its_own()
    {
        var plain = new InstrumentInUse("labelled-line", "hash", "port");

        Assert.Equal("labelled-line", plain.Name);
        Assert.Equal("bench", (plain with { Name = " bench " }).Name);
        Assert.Equal(plain, plain with { Name = "labelled-line" });
        Assert.Equal(plain, plain with { Name = "" });
    }

    [Fact]
    public void What_is_said_with_an_empty_text_is_not_said()
    {
        var bench = new Instrument("bench", "labelled-line", First) { Port = " ", Notes = "", Filters = " status M " };

        Assert.Equal((null, null, "status M"), (bench.Port, bench.Notes, bench.Filters));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(0.2)]
    [InlineData(double.NaN)]
    public void Display_step_that_no_instrument_has_is_refused(double step) =>
        Assert.Throws<ImpossibleValueException>(() => new Instrument("bench", "labelled-line", First) { DisplayStep = step });

    [Fact]
    public void Rate_below_one_and_what_has_no_name_or_profile_are_refused()
    {
        Assert.Throws<ImpossibleValueException>(() => new Instrument("bench", "labelled-line", First) { Baud = 0 });
        Assert.Throws<ImpossibleValueException>(() => new Instrument(" ", "labelled-line", First));
        Assert.Throws<ImpossibleValueException>(() => new Instrument("bench", " ", First));
    }

    [Fact]
    public void Changes_name_what_differs_and_nothing_else()
    {
        var before = new Instrument("bench", "labelled-line", First) { Port = "/dev/ttyUSB0", Notes = "old lamp" };
        var after = before with { Port = "/dev/ttyUSB1", Baud = 1200, Notes = null, RetiredAt = First.At };

        Assert.Equal(
            [
                ("port", "/dev/ttyUSB0", "/dev/ttyUSB1"), ("rate", "", "1200 bit/s"), ("notes", "old lamp", ""),
                ("retired", "", "2026-03-12"),
            ],
            after.ChangesSince(before));
        Assert.Empty(before.ChangesSince(before));
    }
}
