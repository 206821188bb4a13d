using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Tests.Profiles;

public sealed class ProfileCommandsTests
{
    private const string Title = "\"title\": \"Small\",";
    private const string Sample = "\"blue\": 0.80 } }";
    private const string Identify = "\"identify\": { \"send\": \"WHO\", \"answer\": \"UNIT {serial:5}-{version} {type}\" }";

    [Fact]
    public void Profile_without_commands_sends_nothing()
    {
        var profile = ProfileTexts.Read(ProfileTexts.Small);
        Assert.Empty(profile.Commands.All);
        Assert.Equal((null, null), (profile.Commands.Trigger, profile.Commands.Identify));
    }

    [Fact]
    public void Read_takes_every_command_and_the_defaults_of_their_times()
    {
        var commands = ProfileTexts.Read(With("""
            "afterOpening": [{ "send": "<CR>" }, { "send": "<ESC>R<CR>", "thenWaitMs": 200 }],
            "trigger": { "send": "READ<CR>" },
            "identify": { "send": "WHO<CR>", "answer": "UNIT {serial}" }
            """)).Commands;
        Assert.Equal(["<CR>", "<ESC>R<CR>", "READ<CR>", "WHO<CR>"], commands.All.Select(c => ByteText.Of(c.Bytes.AsSpan())));
        Assert.Equal([0, 200], commands.AfterOpening.Select(c => c.ThenWait.TotalMilliseconds));
        Assert.Equal((10, 2), (commands.Trigger!.Within.TotalSeconds, commands.Identify!.Within.TotalSeconds));
    }

    [Fact]
    public void Sample_of_an_answer_proves_its_template()
    {
        var text = With(Identify).Replace(
            Sample, Sample
                + ", { \"lines\": [\"UNIT 00042-1.2 B\"], \"gives\": { \"serial\": \"00042\", \"version\": \"1.2\", \"type\": \"B\" } }",
            StringComparison.Ordinal);
        Assert.Equal(new InstrumentIdentity("00042", "1.2", "B"), ProfileTexts.Read(text).Samples[1].Identity);
    }

    public static TheoryData<string, string> Mistakes() => new()
    {
        { "", "at least 1" },
        { "\"trigger\": { }", "send" },
        { "\"trigger\": { \"send\": \"\" }", "1" },
        { "\"trigger\": { \"send\": \"M\", \"withinMs\": 99 }", "100" },
        { "\"trigger\": { \"send\": \"M<CR\" }", "character 2: the < is not closed" },
        { "\"trigger\": { \"send\": \"M<RETURN>\" }", "'<RETURN>' is no byte" },
        { "\"afterOpening\": [{ \"send\": \"M\", \"thenWaitMs\": 10001 }]", "10000" },
        { "\"afterOpening\": [{ \"send\": \"M<CR>\" }, { \"send\": \"<Q>\" }]", "'<Q>' is no byte" },
        { "\"identify\": { \"send\": \"M\" }", "answer" },
        { "\"identify\": { \"send\": \"M\", \"answer\": \"UNIT {word}\" }", "says nothing of the instrument" },
        { "\"identify\": { \"send\": \"M\", \"answer\": \"{serial} {serial}\" }", "character 10: {serial} stands twice" },
        { "\"identify\": { \"send\": \"M\", \"answer\": \"{serial} {red}\" }", "'{red}' is no place; expected {serial}, {version}, "
            + "{type}" },
        { "\"identify\": { \"send\": \"M\", \"answer\": \"{serial}{version}\" }", "two places stand side by side" },
        { "\"identify\": { \"send\": \"M\", \"answer\": \"{type} {skip}\" }", "would also be taken for the answer to identify" },
        { "\"trigger\": { \"send\": \"M\" }, \"identify\": { \"send\": \"<0x4D>\", \"answer\": \"UNIT {serial}\" }", "to ask would read" },
    };

    [Theory]
    [MemberData(nameof(Mistakes))]
    public void Mistake_is_reported_with_what_was_expected(string commands, string message)
    {
        var fault = Assert.Throws<ProfileException>(() => ProfileTexts.Read(With(commands)));
        Assert.Contains(fault.Errors, e => e.Message.Contains(message, StringComparison.Ordinal));
        Assert.All(fault.Errors, e => Assert.True(e is { File: "test.json", Line: > 0, Column: > 0 }, e.ToString()));
    }

    [Fact]
    public void Mistake_in_bytes_stands_at_their_line_and_column()
    {
        var fault = Assert.Throws<ProfileException>(
            () => ProfileTexts.Read(
                With("\n    \"trigger\": { \"send\": \"<CR\" },\n    \"identify\": { \"send\": \"W\", \"answer\": \"x\" }")));
        Assert.Equal([(4, 26), (5, 42)], fault.Errors.Select(e => (e.Line, e.Column)));
    }

    [Theory]
    [InlineData("\"dataBits\": 7", "M<0x80>", "seven data bits")]
    [InlineData("\"handshake\": \"xon-xoff\"", "M<DC3>", "flow control")]
    public void Bytes_that_the_link_cannot_carry_are_refused(string link, string send, string message)
    {
        var text = With($"\"trigger\": {{ \"send\": \"{send}\" }}").Replace(
            "\"commands\"", $"\"link\": {{ {link} }}, \"commands\"", StringComparison.Ordinal);
        Assert.Contains(message, Assert.Single(Assert.Throws<ProfileException>(() => ProfileTexts.Read(text)).Errors).Message,
            StringComparison.Ordinal);
    }

    [Fact]
    public void Bytes_beyond_256_are_refused()
    {
        _ = ProfileTexts.Read(With($"\"trigger\": {{ \"send\": \"{new string('M', 256)}\" }}"));
        var fault =
            Assert.Throws<ProfileException>(() => ProfileTexts.Read(With($"\"trigger\": {{ \"send\": \"{new string('M', 257)}\" }}")));
        Assert.Contains("It has 257 bytes; expected 256 at most.", fault.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(
        Identify, "UNIT 00042-1.2 B", "{ \"serial\": \"42\" }", "should say that the instrument is serial 42, but says serial 00042")]
    [InlineData(
        Identify, "UNIT 00042-1.2", "{ \"serial\": \"00042\" }", "should give the answer to identify, serial 00042, but gives nothing")]
    [InlineData(Identify, "UNIT 00042-1.2 B", "{ \"serial\": \"00042\", \"red\": 0.26 }", "one or the other")]
    [InlineData(
        "\"trigger\": { \"send\": \"M\" }", "UNIT 00042-1.2 B", "{ \"serial\": \"00042\" }", "does not ask the instrument what it is")]
    public void Sample_of_an_answer_that_the_profile_does_not_bear_out_is_refused(
        string commands, string line, string gives, string message)
    {
        var text = With(commands).Replace(
            Sample, $"{Sample}, {{ \"lines\": [\"{line}\"], \"gives\": {gives} }}", StringComparison.Ordinal);
        var fault = Assert.Throws<ProfileException>(() => ProfileTexts.Read(text));
        Assert.Contains(message, fault.Message, StringComparison.Ordinal);
    }

    private static string With(string commands) => ProfileTexts.With(Title, $"{Title} \"commands\": {{ {commands} }},");
}
