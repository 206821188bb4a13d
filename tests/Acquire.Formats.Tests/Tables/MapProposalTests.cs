using Acquire.Formats.ProcessSheets;
using Acquire.Formats.Tables;

namespace Acquire.Formats.Tests.Tables;

public sealed class MapProposalTests
{
    [Theory]
    [InlineData("Nr;Datum;Code;LD R;LD G;LD B")]
    [InlineData("Nr;Code;LD R;LD G;LD B", "date")]
    [InlineData("Nr;LD R;LD G;LD B", "date", "the lot")]
    [InlineData("x;y", "date", "the lot", "a patch")]
    public void What_a_heading_does_not_tell_is_said_in_a_sentence_each(string heading, params string[] lacks)
    {
        var proposed = MapProposal.Of(heading.Split(';'), ShippedSheets.Get("c41").Layout);

        Assert.Equal(lacks.Length, proposed.Lacks().Count());
        Assert.All(proposed.Lacks().Zip(lacks), l => Assert.Contains(l.Second, l.First, StringComparison.Ordinal));
        Assert.Equal(lacks.Length == 3 ? ["x", "y"] : [], proposed.Unknown);
    }
}
