using Acquire.Instruments.Links;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Tests.Profiles;

public sealed class ProfileReaderTests
{
    [Fact]
    public void Read_of_the_least_profile_takes_the_defaults()
    {
        var profile = ProfileTexts.Read(ProfileTexts.Small);
        Assert.Equal(("small", "Small", ""), (profile.Name, profile.Title, profile.Description));
        Assert.Equal(new LinkSettings(), profile.Link);
        Assert.Equal(new FramingSettings(), profile.Framing);
        Assert.Equal((DecimalMark.Point, 2, SignHabit.Any), (profile.Number.DecimalMark, profile.Number.Decimals, profile.Number.Sign));
        Assert.Null(profile.Assembly);
        Assert.Equal(ChannelDensities.Rgb(0.26m, 0.62m, 0.80m), profile.Samples[0].Densities);
    }

    [Fact]
    public void Read_takes_every_setting()
    {
        var profile = ProfileTexts.Read(ProfileTexts.With("\"lines\": [\n    { \"template", """
            "link": { "baud": 1200, "dataBits": 7, "parity": "odd", "stopBits": 2, "handshake": "rts-cts", "dtr": "on", "rts": "off",
                      "maskTopBit": true, "settleAfterOpenMs": 500, },
            "framing": { "lineEnd": "lfcr", "idleGapMs": 40, "maxLength": 100, "start": "0x02", "end": "ETX" },
            "number": { "decimalMark": "point", "decimals": null, "sign": "minus-only", "overRange": ["HI"] }, // a comment
            "lines": [
            { "template
            """));
        var link = new LinkSettings
        {
            Baud = 1200, DataBits = 7, Parity = LineParity.Odd, StopBits = 2, Handshake = Handshake.RtsCts, Dtr = ControlLine.On,
            Rts = ControlLine.Off, MaskTopBit = true, SettleAfterOpen = TimeSpan.FromMilliseconds(500),
        };
        var framing =
            new FramingSettings { LineEnd = LineEnd.LfCr, IdleGap = TimeSpan.FromMilliseconds(40), MaxLength = 100, Start = 2, End = 3 };
        Assert.Equal(link, profile.Link);
        Assert.Equal(framing, profile.Framing);
        Assert.Null(profile.Number.Decimals);
        Assert.Equal(["HI"], profile.Number.OverRange);
    }

    [Fact]
    public void Hash_is_the_SHA_256_of_the_text()
    {
        // Source: GNU coreutils sha256sum over the same text in a file.
        Assert.Equal("edaeabd93e8ff4329564cc2d722000e5a7661778163ab010f26c07e8e6f60a24", ProfileTexts.Read(ProfileTexts.Small).Hash);
    }

    public static TheoryData<string, string, int, int, string> Mistakes() => new()
    {
        // Syntax and schema.
        { "\"title\": \"Small\",", "\"title\": \"Small\"", 4, 3, "No valid JSON" },
        { "\"small\"", "\"Small One\"", 2, 11, "lower-case letters, digits and hyphens" },
        { "\"title\": \"Small\",", "", 1, 1, "title" },
        { "\"title\": \"Small\",", "\"title\": \"Small\", \"colour\": 1,", 3, 31, "'colour' is not known here; expected one of name, "
            + "title, description, link" },
        { "\"title\": \"Small\",", "\"title\": \"Small\", \"title\": \"Small\",", 3, 30, "'title' is written twice" },
        { "\"title\": \"Small\",", "\"title\": \"S\", \"link\": { \"baud\": 49 },", 3, 35, "50" },
        { "\"title\": \"Small\",", "\"title\": \"S\", \"link\": { \"dataBits\": 9 },", 3, 39, "Expected one of 7, 8." },
        { "\"title\": \"Small\",", "\"title\": \"S\", \"framing\": { \"start\": \"STY\" },", 3, 39, "the name of a control character" },
        { "\"reading\"", "\"readings\"", 5, 58, "Expected one of reading, channel, over-range" },
        { "\"template\": \"R", "\"pattern\": \"x\", \"template\": \"R", 5, 5, "exactly one of template and pattern" },
        { "{ \"red\": 0.26,", "{ \"read\": 0.26,", 8, 61, "'read' is not known here; expected one of red, green, blue, visual, serial" },
        { "{ \"red\": 0.26, \"green\": 0.62, \"blue\": 0.80 }", "\"nothing\"", 8, 51, "Expected one of channel, over-range" },
        { "0.26,", "11,", 8, 60, "10" },

        // Meaning.
        { "{red}", "{redd}", 5, 19, "character 3: '{redd}' is no place" },
        { "R {red} G {green} B {blue}", "R G B", 5, 19, "A reading needs a density" },
        { "R {red} G {green} B {blue}", "{value}", 5, 19, "{value} belongs to lines that mean 'channel'" },
        { "\"reading\"", "\"error\"", 5, 19, "means 'error' holds no density" },
        { "\"reading\"", "\"channel\"", 5, 19, "holds one density" },
        { "\"template\": \"R {red} G {green} B {blue}\"", "\"pattern\": \"(?<red>.*)(\"", 5, 18, "is no pattern" },
        { "\"template\": \"R {red} G {green} B {blue}\"", "\"pattern\": \"(?<=a)(?<red>.*)\"", 5, 18, "is no pattern" },
        { "\"template\": \"R {red} G {green} B {blue}\"", "\"pattern\": \"(?<rot>.*)\"", 5, 18, "group 'rot' is no place" },
        { "\"title\": \"Small\",", "\"title\": \"S\", \"framing\": { \"lineEnd\": \"none\" },", 3, 28, "Nothing ends a line" },
        { "\"title\": \"Small\",", "\"title\": \"S\", \"framing\": { \"start\": \"$\", \"end\": \"$\" },", 3, 51, "same character" },
        { "\"title\": \"Small\",", "\"title\": \"S\", \"framing\": { \"end\": \"0x0D\" },", 3, 37, "have their own meaning" },
        {
            "\"title\": \"Small\",", "\"title\": \"S\", \"number\": { \"decimalMark\": \"implied\", \"decimals\": null },", 3, 67,
            "Implied decimals need a number" },
        {
            "\"title\": \"Small\",", "\"title\": \"S\", \"number\": { \"overRange\": [\"HI\", \"-\"] },", 3, 49,
            "'-' could be the beginning of a number" },
        { "\"title\": \"Small\",", "\"title\": \"S\", \"assembly\": { \"order\": [\"red\", \"green\"] },", 3, 29, "there is no such line" },
        { "\"means\": \"reading\" }", "\"means\": \"reading\" }, { \"template\": \"{value}\", \"means\": \"channel\" }", 4, 12,
            "need an assembly" },
        { "0.26,", "0.2600001,", 8, 60, "six decimals" },

        // Samples.
        { "0.26, \"green\"", "0.27, \"green\"", 8, 17, "should give the reading R 0.27 G 0.62 B 0.80, but gives the reading R 0.26 G "
            + "0.62 B 0.80." },
        { "R 0.26 G 0.62", "R 0.26 G 0.6", 8, 17, "expected 2 decimals, found ' B 0.80'" },
        { "R 0.26 G 0.62", "R 0.26\\r G 0.62", 8, 17, "is cut into 2 lines" },
        { "R 0.26 G 0.62", "\u03A9", 8, 17, "no single byte" },
        { "\"means\": \"reading\" }", "\"means\": \"reading\" }, { \"template\": \"ERR\", \"means\": \"error\" }", 5, 71,
            "No line of a sample comes to this rule" },
        { "{ \"red\": 0.26, \"green\": 0.62, \"blue\": 0.80 }", "\"error\"", 8, 17, "should give error, but gives the reading" },
    };

    [Theory]
    [MemberData(nameof(Mistakes))]
    public void Mistake_is_reported_with_line_column_and_what_was_expected(
        string old, string replacement, int line, int column, string message)
    {
        var fault = Assert.Throws<ProfileException>(() => ProfileTexts.Read(ProfileTexts.With(old, replacement)));
        Assert.Contains(fault.Errors, e => (e.Line, e.Column) == (line, column) && e.Message.Contains(message, StringComparison.Ordinal));
        Assert.All(fault.Errors, e => Assert.Equal("test.json", e.File));
    }

    [Fact]
    public void All_mistakes_of_a_stage_are_reported_together_in_the_order_of_the_file()
    {
        var text = ProfileTexts.With("{red}", "{redd}").Replace(
            "\"title\": \"Small\",", "\"title\": \"S\", \"framing\": { \"lineEnd\": \"none\" },", StringComparison.Ordinal);
        var fault = Assert.Throws<ProfileException>(() => ProfileTexts.Read(text));
        Assert.Equal([3, 5], fault.Errors.Select(e => e.Line));
        Assert.Equal(2, fault.Message.Split(Environment.NewLine).Length);
    }

    [Fact]
    public void Profile_without_a_sample_of_a_reading_is_refused()
    {
        var text = ProfileTexts.With("R {red} G {green} B {blue}\", \"means\": \"reading\"", "ERR\", \"means\": \"error\"")
            .Replace(
                "R 0.26 G 0.62 B 0.80\"], \"gives\": { \"red\": 0.26, \"green\": 0.62, \"blue\": 0.80 }",
                "ERR\"], \"gives\": \"error\"",
                StringComparison.Ordinal);
        var fault = Assert.Throws<ProfileException>(() => ProfileTexts.Read(text));
        Assert.Contains("No sample gives a reading", Assert.Single(fault.Errors).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Damaged_profile_is_read_or_refused_but_never_anything_else()
    {
        var change = Gen.Select(Gen.Int[0, ProfileTexts.Small.Length - 1], Gen.Int[0, 2], Gen.Char["{}[]\",:\\u0d8\t x1-.eE"]);
        change.Array[1, 4].Sample(
            changes =>
            {
                var text = ProfileTexts.Small;
                foreach (var (at, kind, c) in changes)
                {
                    text = kind switch
                    {
                        0 => text.Insert(Math.Min(at, text.Length), c.ToString()),
                        _ when at < text.Length => text.Remove(at, 1).Insert(at, kind == 1 ? c.ToString() : ""),
                        _ => text,
                    };
                }

                try
                {
                    _ = ProfileTexts.Read(text);
                }
                catch (ProfileException fault)
                {
                    Assert.NotEmpty(fault.Errors);
                }
            },
            iter: 2000);
    }

    [Theory]
    [InlineData("")]
    [InlineData("null")]
    [InlineData("[]")]
    [InlineData("\"\\ud800\"")]
    [InlineData("{\"name\": \"\\ud800\"}")]
    public void Text_that_is_no_profile_is_refused(string text) =>
        Assert.NotEmpty(Assert.Throws<ProfileException>(() => ProfileTexts.Read(text)).Errors);
}
