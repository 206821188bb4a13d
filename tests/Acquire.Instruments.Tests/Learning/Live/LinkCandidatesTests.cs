using Acquire.Instruments.Learning;
using Acquire.Instruments.Links;

namespace Acquire.Instruments.Tests.Learning.Live;

public class LinkCandidatesTests
{
    private static readonly BurstLook Silent = BurstLook.At([]);

    [Fact]
    public void Every_usual_rate_comes_once_the_likeliest_first()
    {
        var rates = LinkCandidates.First(null).Select(s => s.Baud).ToList();

        Assert.Equal([300, 600, 1200, 2400, 4800, 9600, 19200, 38400, 57600, 115200], rates.Order());
        Assert.Equal(9600, rates[0]);
        Assert.All(LinkCandidates.First(null), s => Assert.Equal(new LinkSettings { Baud = s.Baud }, s));
    }

    [Fact]
    public void Known_rate_is_the_only_one() => Assert.Equal([new LinkSettings { Baud = 1800 }], LinkCandidates.First(1800));

    [Fact]
    public void Other_framings_are_tried_where_something_came_the_most_like_text_first()
    {
        (LinkSettings, BurstLook)[] tried =
        [
            (new LinkSettings { Baud = 9600 }, Silent),
            (new LinkSettings { Baud = 1200 }, Silent with { Bytes = 9, TextShare = 0.2 }),
            (new LinkSettings { Baud = 2400 }, Silent with { Bytes = 9, TextShare = 0.6 }),
            (new LinkSettings { Baud = 1200 }, Silent with { Bytes = 9, TextShare = 0.1 }),
        ];

        Assert.Equal(
            ["2400 8E1", "2400 8O1", "2400 7N1", "1200 8E1", "1200 8O1", "1200 7N1"], LinkCandidates.Second(tried).Select(LinkWords.Of));
    }
}
