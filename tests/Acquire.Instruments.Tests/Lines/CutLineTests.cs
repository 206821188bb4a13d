using System.Text;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Tests.Profiles;

namespace Acquire.Instruments.Tests.Lines;

/// <summary>A line that lost its tail, the damage that an unplugged or overrun port does, must never pass as a reading.</summary>
public sealed class CutLineTests
{
    public static TheoryData<string> Names() => ShippedProfiles.Names();

    [Theory]
    [MemberData(nameof(Names))]
    public void Line_cut_anywhere_is_never_a_reading(string name)
    {
        var profile = ShippedProfiles.Get(name);
        var densities = new ChannelDensities(new(0.26m), new(0.62m), new(2.80m), new(0.58m));
        foreach (var line in new LineWriter(profile).WriteReading(densities))
        {
            var text = Encoding.Latin1.GetString(line).Trim('\r', '\n', '\u0002', '\u0003');
            for (var length = 1; length < text.Length; length++)
            {
                var cut = new LineInterpreter(profile).Interpret(RawLine.OfText(text[..length], DateTimeOffset.UnixEpoch));
                var isBlank = string.IsNullOrWhiteSpace(text[..length]);
                Assert.Equal(isBlank ? LineMeaning.Ignored : LineMeaning.Unmatched, cut.Meaning);
            }
        }
    }
}
