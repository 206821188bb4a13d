using Acquire.Instruments.Learning;
using Acquire.Instruments.Links;
using Acquire.Instruments.ProfileFiles;
using Acquire.Instruments.Profiles;
using Acquire.Instruments.Tests.Links;

namespace Acquire.Instruments.Tests.Learning.Live;

/// <summary>
/// The whole conversation against a scripted instrument. Formats are invented; the variations are common practice of serial instruments, no
/// source.
/// </summary>
public class LiveLearningTests
{
    private static readonly string[][] Labelled =
        [["R 0.26 G ", "0.62 B 0.80\r\n"], ["R 1.26 G 1.74", " B 2.01\r\n"], ["R 0.46 G 0.84 B 1.04\r\n"], ["R 0.37 G 0.88 B 2.72\r\n"]];

    private static readonly string[] Answers = ["0.26 0.62 0.80", "1.26 1.74 2.01", ""];
    private readonly ImpatientClock _clock = new();

    public static TheoryData<int> Rates() => [.. LinkCandidates.Rates];

    [Theory]
    [MemberData(nameof(Rates))]
    public async Task Rate_is_found_by_pressing_once_for_each_that_is_tried(int baud)
    {
        var tries = LinkCandidates.Rates.IndexOf(baud);
        var (learned, instrument, desk) =
            await LearnAsync(new LinkSettings { Baud = baud }, [.. Enumerable.Repeat(Labelled[0], tries), .. Labelled], Answers);

        Assert.Equal(new LinkSettings { Baud = baud }, Learned(learned, desk).Link);
        Assert.Equal([.. LinkCandidates.Rates.Take(tries + 1)], instrument.Opened.Select(o => o.Baud));
        Assert.Contains($"Text at {baud} 8N1", desk.Said, StringComparison.Ordinal);
        Assert.Contains("R 0.46 G 0.84 B 1.04: is this what the display shows?", desk.Said, StringComparison.Ordinal);
        Assert.True(desk.IsDone);
    }

    [Theory]
    [InlineData(7, LineParity.Even, true, 0)]
    [InlineData(7, LineParity.Odd, true, 0)]
    [InlineData(8, LineParity.Even, false, 1)]
    [InlineData(8, LineParity.Odd, false, 2)]
    public async Task Framing_is_found_and_proved_on_the_port(int dataBits, LineParity parity, bool masked, int tries)
    {
        var line = new LinkSettings { Baud = 1200, DataBits = dataBits, Parity = parity };
        var (learned, instrument, desk) =
            await LearnAsync(line, [.. Enumerable.Repeat(Labelled[0], tries), .. Labelled], Answers, baud: 1200);

        Assert.Equal(line with { MaskTopBit = masked }, Learned(learned, desk).Link);
        Assert.Equal((dataBits, parity), (instrument.Opened[^1].DataBits, instrument.Opened[^1].Parity));
    }

    [Theory]
    [InlineData("0.26 ", "0.62 0.80", "1.26 1.74 ", "2.01", "0.46 0.84 1.04", "")]
    [InlineData("R=0.26\rG=0.62\r", "B=0.80", "R=1.26\rG=1.74\rB", "=2.01", "R=0.46\rG=0.84\rB=1.04", "")]
    [InlineData("\r\n0.26 ", "0.62 0.80", "\r\n1.26 1.74 ", "2.01", "\r\n0.46 0.84", " 1.04")]
    public async Task Readings_that_only_a_pause_ends_are_learned(params string[] pieces)
    {
        var (learned, _, desk) =
            await LearnAsync(new LinkSettings(), [.. pieces.Chunk(2).Select(p => p.Where(t => t.Length > 0).ToArray())], Answers);

        var profile = Learned(learned, desk);
        Assert.InRange(profile.Framing.IdleGap!.Value, TimeSpan.FromMilliseconds(20), TimeSpan.FromSeconds(1));
        Assert.Equal(pieces[0].Contains('\r') ? LineEnd.Any : LineEnd.None, profile.Framing.LineEnd);
        Assert.Contains("R 0.46 G 0.84 B 1.04: is this", desk.Said, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Channels_that_come_a_pause_apart_are_learned_as_lines_of_their_own()
    {
        string[][] readings = [["R=0.26", "G=0.62", "B=0.80"], ["R=1.26", "G=1.74", "B=2.01"], ["R=0.46", "G=0.84", "B=1.04"]];
        var (learned, _, desk) = await LearnAsync(new LinkSettings(), readings, Answers, TimeSpan.FromMilliseconds(300));

        Assert.Equal([Channel.Red, Channel.Green, Channel.Blue], Learned(learned, desk).Assembly!.Order);
    }

    [Fact]
    public async Task Third_reading_is_asked_for_when_two_do_not_tell_the_columns_apart()
    {
        string[][] readings = [["0.26 0.26 0.80\r\n"], ["1.26 1.26 2.01\r\n"], ["0.46 0.84 1.04\r\n"], ["0.37 0.88 2.72\r\n"]];
        var (learned, _, desk) =
            await LearnAsync(new LinkSettings(), readings, ["0.26 0.26 0.80", "1.26 1.26 2.01", "0.46 0.84 1.04", "y"]);

        Assert.Equal("{red} {green} {blue}", Learned(learned, desk).Rules[0].Template!.Text);
        Assert.Contains("the same for red and green", desk.Said, StringComparison.Ordinal);
        Assert.Contains("(reading 3)", desk.Said, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Word_stands_for_a_channel_beyond_the_range()
    {
        string[][] readings = [Labelled[0], ["R 1.26 G 1.74 B >4.0\r\n"], Labelled[1], Labelled[2]];
        var (learned, _, desk) = await LearnAsync(new LinkSettings(), readings, ["0.26 0.62 0.80", "1.26 1.74 HI", "1.26 1.74 2.01", "Y"]);

        Assert.Equal([">4.0"], Learned(learned, desk).Number.OverRange);
    }

    [Fact]
    public async Task Reading_that_the_profile_does_not_read_is_one_more_to_learn_from()
    {
        string[][] readings = [Labelled[0], Labelled[1], ["R 0.46 G >4.0 B 1.04\r\n"], Labelled[3]];
        var (learned, _, desk) = await LearnAsync(new LinkSettings(), readings, ["0.26 0.62 0.80", "1.26 1.74 2.01", "0.46 HI 1.04", ""]);

        Assert.Equal([">4.0"], Learned(learned, desk).Number.OverRange);
        Assert.Contains("does not read this one yet", desk.Said, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("0.26 0.62 0.81", "0.81 is nowhere in what came: 'R 0.26 G 0.62 B 0.80'")]
    [InlineData("0.26 0.62", "expected 3")]
    [InlineData("0.26 0.62 0.8.0", "no density")]
    public async Task Wrong_answer_is_told_and_asked_again(string wrong, string told)
    {
        var (learned, _, desk) = await LearnAsync(new LinkSettings(), Labelled, [wrong, .. Answers]);

        _ = Learned(learned, desk);
        Assert.Contains(told, desk.Said, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("")]
    [InlineData("skip")]
    [InlineData("9.99 9.99 9.99", "9.99 9.99 9.99", "9.99 9.99 9.99")]
    [InlineData(ScriptedDesk.PressAnd + "0.46 0.84 1.04")]
    public async Task Reading_that_is_not_certain_is_forgotten(params string[] answers)
    {
        string[][] readings = [
            Labelled[2],
            .. answers[0].StartsWith(ScriptedDesk.PressAnd, StringComparison.Ordinal) ? [Labelled[3]] : (string[][])[],
            .. Labelled];
        var (learned, _, desk) = await LearnAsync(new LinkSettings(), readings, [.. answers, .. Answers]);

        Assert.Equal(2, Learned(learned, desk).Samples.Count(s => s.Densities is not null));
        Assert.Contains("forgotten", desk.Said, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Redo_forgets_what_was_mistyped_before()
    {
        var (learned, _, desk) = await LearnAsync(
            new LinkSettings(),
            [.. Labelled, Labelled[1]], ["0.62 0.26 0.80", "1.26 1.74 2.01", "redo", "0.46 0.84 1.04", "0.37 0.88 2.72", "yes"]);

        Assert.DoesNotContain(Learned(learned, desk).Samples, s => s.Lines[0].Contains("0.26", StringComparison.Ordinal));
        Assert.Contains("answer redo", desk.Said, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("n", "not what the display shows")]
    [InlineData("no", "Nothing was written")]
    [InlineData("q", "Stopped")]
    [InlineData(null, "standard input is closed")]
    public async Task Profile_that_is_not_confirmed_is_not_given(string? last, string reason)
    {
        var (result, _, desk) = await LearnAsync(new LinkSettings(), Labelled, [.. Answers[..2], .. last is null ? [] : (string[])[last]]);

        Assert.Contains(reason, Declined(result, desk), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Five_readings_that_fit_nothing_together_are_declined()
    {
        string[][] readings = [.. Enumerable.Range(1, 5).Select(i => (string[])[FormattableString.Invariant($"{i}.00 {i}.00 {i}.50\r\n")])];
        var (result, _, desk) = await LearnAsync(
            new LinkSettings(), readings, Enumerable.Range(1, 5).Select(i => FormattableString.Invariant($"{i}.00 {i}.00 {i}.50")));

        Assert.Contains("red and green", Declined(result, desk), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Silence_is_asked_about_and_waited_on_or_left()
    {
        var (learned, instrument, desk) = await LearnAsync(new LinkSettings { Baud = 1200 }, [[], [], .. Labelled], ["", "n", .. Answers]);

        _ = Learned(learned, desk);
        Assert.Equal([9600, 1200], instrument.Opened.Select(o => o.Baud));
        Assert.Contains("Nothing came within 30 s at 9600 8N1", desk.Said, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Silence_at_every_rate_is_declined()
    {
        var (result, instrument, desk) =
            await LearnAsync(new LinkSettings(), Enumerable.Repeat<string[]>([], 10), Enumerable.Repeat("n", 10));

        Assert.Contains("Nothing came from /dev/instrument", Declined(result, desk), StringComparison.Ordinal);
        Assert.Equal(10, instrument.Opened.Count);
    }

    [Fact]
    public async Task Noise_at_every_setting_is_declined()
    {
        var noise = new string([.. Enumerable.Range(0, 200).Select(i => (char)(byte)((i * 89) + 7))]);
        var (result, instrument, desk) = await LearnAsync(new LinkSettings(), Enumerable.Repeat<string[]>([noise], 80), []);

        Assert.Contains("text at none of the settings", Declined(result, desk), StringComparison.Ordinal);
        Assert.Equal(40, instrument.Opened.Distinct().Count());
    }

    [Fact]
    public async Task Text_without_a_pause_is_declined()
    {
        var flood = Enumerable.Repeat("R 0.26 G 0.62 B 0.80\r\n", 2000).ToArray();
        var (result, _, desk) = await LearnAsync(new LinkSettings(), [flood], []);

        Assert.Contains("without a pause", Declined(result, desk), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Plug_that_is_pulled_in_the_middle_is_a_fault_of_the_port()
    {
        var (result, _, _) = await LearnAsync(new LinkSettings(), Labelled[..1], Answers);

        Assert.Equal(LinkFault.Gone, Assert.IsType<LinkException>(result).Fault);
    }

    [Fact]
    public async Task Text_that_the_user_cannot_read_is_left_for_other_settings()
    {
        var (learned, instrument, desk) =
            await LearnAsync(new LinkSettings(), [Labelled[0], .. Enumerable.Repeat(Labelled[0], 9), .. Labelled], ["n"]);

        Assert.Equal(1200, instrument.Opened[1].Baud);
        Assert.Contains("standard input is closed", Declined(learned, desk), StringComparison.Ordinal);
        Assert.Contains("this is no text", desk.Said, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Server_that_passes_raw_bytes_is_opened_once_and_its_rate_is_not_known()
    {
        var line = new LinkSettings { DataBits = 7, Parity = LineParity.Even };
        var (learned, instrument, desk) = await LearnAsync(line, Labelled, Answers, address: new LinkAddress.Tcp("darkroom", 4001));

        Assert.Equal(new LinkSettings { MaskTopBit = true }, Learned(learned, desk).Link);
        Assert.Single(instrument.Opened);
        Assert.Contains("set it under link", Learned(learned, desk).Description, StringComparison.Ordinal);
    }

    private async Task<(object Result, KeyedInstrument Instrument, ScriptedDesk Desk)> LearnAsync(
        LinkSettings line,
        IEnumerable<string[]> readings, IEnumerable<string> answers, TimeSpan? pause = null, int? baud = null, LinkAddress? address = null)
    {
        var instrument = new KeyedInstrument(_clock, line, readings) { Pause = pause ?? TimeSpan.FromMilliseconds(8) };
        var desk = new ScriptedDesk(instrument, answers);
        var request = new LiveRequest(
            address ?? new LinkAddress.Serial("/dev/instrument"), [Channel.Red, Channel.Green, Channel.Blue], "ours") { Baud = baud };
        object result;
        try
        {
            result = await new LiveLearning(instrument, desk, _clock).RunAsync(request, TestContext.Current.CancellationToken);
        }
        catch (LinkException fault)
        {
            result = fault;
        }

        Assert.Equal(0, instrument.StillOpen);
        return (result, instrument, desk);
    }

    private static DeviceProfile Learned(object result, ScriptedDesk desk) =>
        result is LearningResult.Learned { Profile: var profile, Json: var json }
        ? ProfileReader.Read(json, "ours.json") is { } read && read.Name == profile.Name
            ? profile
            : throw new InvalidOperationException(json)
        : throw new InvalidOperationException(
            $"{result} {string.Join(' ', (result as LearningResult.Declined)?.Reasons ?? [])}\n{desk.Said}");

    private static string Declined(object result, ScriptedDesk desk) => result is LearningResult.Declined declined
        ? string.Join(' ', declined.Reasons)
        : throw new InvalidOperationException($"{result}\n{desk.Said}");
}
