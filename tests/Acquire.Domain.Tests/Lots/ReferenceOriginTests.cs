using static Acquire.Domain.Tests.Assertions;

namespace Acquire.Domain.Tests.Lots;

public class ReferenceOriginTests
{
    [Fact]
    public void Values_that_were_read_know_reads_and_instrument_and_no_uncertainty_of_a_list()
    {
        var read = ReferenceOrigin.Read(4, "bench");

        Assert.Equal((4, "bench", null), (read.Reads, read.Profile, read.ListUncertainty));
    }

    [Fact]
    public void Values_of_a_list_were_read_by_nobody()
    {
        var list = ReferenceOrigin.FromList(0.01);

        Assert.Equal((null, null, 0.01), (list.Reads, list.Profile, list.ListUncertainty));
    }

    [Fact]
    public void No_reads_are_refused() => Refused("one read at least, not of 0", () => ReferenceOrigin.Read(0));

    [Fact]
    public void Instrument_without_a_name_is_refused() => Refused("instrument of a reference", () => ReferenceOrigin.Read(1, " "));

    [Theory]
    [InlineData(-0.01)]
    [InlineData(1)]
    [InlineData(double.NaN)]
    public void Impossible_uncertainty_of_a_list_is_refused(double value) =>
        Refused("between 0 and 1", () => ReferenceOrigin.FromList(value));
}
