using System.Text;
using Acquire.Instruments.Captures;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Links;
using Acquire.Instruments.Tests.Lines;
using Acquire.Instruments.Tests.Profiles;
using Microsoft.Extensions.Time.Testing;

namespace Acquire.Instruments.Tests.Captures;

public sealed class CaptureReplayTests
{
    private static readonly DateTimeOffset Begin = new(2026, 11, 25, 18, 40, 0, TimeSpan.Zero);

    private readonly FakeTimeProvider _time = new(Begin);

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    /// <summary>
    /// Pauses that end lines, pauses that give a reading up, lines cut anywhere, noise: the replay says what the live session said.
    /// </summary>
    [Theory]
    [InlineData(
        "pause-ended-line",
        "R0.26G0.62",
        200,
        "B0.80",
        250,
        "R0.46G0.86B1.04",
        100,
        "R1.26G1.74B2.00",
        300,
        "noise",
        10,
        "R0.26G0.62B0.80",
        900)]
    [InlineData(
        "channel-lines-labelled", "R= 0.26\rG= 0.6", 30, "2\r", 60_000, "B= 0.80\r", 5, "R= 0.46\rG= 0.86\rB= 1.04\r", 5, "R= 1.2", 7)]
    [InlineData("labelled-line", "No. 1\r\nR 0.26 G 0.62 ", 40, "B 0.80\r", 40, "\nR >4.0 G 0.86 B 1.04\r\n\u00ff\u0080\r\nR 0.4", 5)]
    public async Task Replay_gives_the_events_of_the_live_session(string profile, params object[] script)
    {
        using var file = new StringWriter();
        var live = await LiveAsync(profile, script, file);
        var capture = CaptureReader.Read(Encoding.UTF8.GetBytes(file.ToString()), "some.txt");

        Assert.Equal(live, await ReplayAsync(capture, profile, null));
        Assert.Contains(live, e => e.Meaning == LineMeaning.Unmatched);
        Assert.Contains(live, e => e.Meaning == LineMeaning.Reading);
    }

    [Fact]
    public async Task Line_cut_by_a_break_is_not_glued_to_what_comes_after()
    {
        var events =
            await ReplayAsync(Timed((0, "R 0.26 G 0.6"), (1, ""), (2, "2 B 0.80\r\nR 0.26 G 0.62 B 0.80\r\n")), "labelled-line", null);
        Assert.Equal([LineMeaning.Unmatched, LineMeaning.Unmatched, LineMeaning.Reading], events.Select(e => e.Meaning));
    }

    [Fact]
    public async Task Last_line_that_only_a_pause_ends_is_whole()
    {
        var events = await ReplayAsync(Timed((0, "R0.26G0.62B0.80")), "pause-ended-line", null);
        Assert.Equal(LineMeaning.Reading, Assert.Single(events).Meaning);
    }

    /// <summary>It would never end if it waited for the day's pauses.</summary>
    [Fact]
    public async Task Replay_of_a_day_waits_for_no_pause_and_gives_every_reading()
    {
        const int Lines = 24 * 60 * 60;
        var capture = Timed([.. Enumerable.Range(0, Lines).Select(i => ((double)i, Line(i)))]);
        var readings = (await ReplayAsync(capture, "labelled-line", null)).Count(e => e.Meaning == LineMeaning.Reading);
        Assert.Equal(Lines, readings);
    }

    [Fact]
    public async Task Replay_in_real_time_waits_for_each_chunk()
    {
        var capture = Timed((0, Line(1)), (3600, Line(2)));
        await using var events =
            CaptureReplay.ReadAllAsync(capture, ShippedProfiles.Get("labelled-line"), _time, Token).GetAsyncEnumerator(Token);
        Assert.True(await events.MoveNextAsync());
        var second = events.MoveNextAsync().AsTask();
        _time.Advance(TimeSpan.FromSeconds(3599));
        Assert.False(second.IsCompleted);
        _time.Advance(TimeSpan.FromSeconds(1));
        Assert.True(await second);
        Assert.Equal(Begin.AddHours(1), events.Current.Line.ReceivedAt);
    }

    private static string Line(int i) => string.Create(CultureInfo.InvariantCulture, $"R 0.{i % 100:00} G 0.62 B 0.80\r\n");

    private static Capture Timed(params (double Seconds, string Text)[] chunks) => new(
        CaptureKind.Timed, null,
        null, null, [.. chunks.Select(c => new CaptureChunk(Begin.AddSeconds(c.Seconds), [.. Encoding.Latin1.GetBytes(c.Text)]))], null);

    private static async Task<List<Told>> ReplayAsync(Capture capture, string profile, TimeProvider? pace) =>
        await CaptureReplay.ReadAllAsync(capture, ShippedProfiles.Get(profile), pace, Token).Select(Told.Of).ToListAsync(Token);

    /// <summary>Text is sent, a number is so many milliseconds of silence; at the end the link breaks.</summary>
    private async Task<List<Told>> LiveAsync(string profile, object[] script, StringWriter file)
    {
        var port = new ScriptedBytes();
        using var recording = new RecordingOpener(new Opens(port), () => new CaptureWriter(file, _time, "scripted", profile, "9600 8N1"));
        await using var link = await recording.OpenAsync(new LinkAddress.Serial("scripted"), new LinkSettings(), Token);
        List<Told> told = [];
        var reading = Task.Run(
            async () =>
            {
                await foreach (var e in InstrumentReader.ReadAllAsync(link, ShippedProfiles.Get(profile), _time, Token))
                {
                    told.Add(Told.Of(e));
                }
            },
            Token);
        // Only when the first read has been counted does a further one mean that what was sent has been taken.
        await UntilAsync(() => port.Started == 1);
        foreach (var step in script)
        {
            if (step is string text)
            {
                var started = port.Started;
                port.Send(text);
                await UntilAsync(() => port.Started > started && port.Reads == 1);
            }
            else
            {
                for (var left = (int)step; left > 0; left -= 10)
                {
                    _time.Advance(TimeSpan.FromMilliseconds(Math.Min(left, 10)));
                    await Task.Yield();
                }
            }
        }

        port.Break();
        await Assert.ThrowsAsync<LinkException>(() => reading);
        return told;
    }

    private static async Task UntilAsync(Func<bool> condition)
    {
        while (!condition())
        {
            Token.ThrowIfCancellationRequested();
            await Task.Yield();
        }
    }

    private sealed record Told(LineMeaning Meaning, DateTimeOffset At, string Text, string? Note, string? Densities)
    {
        public static Told Of(InstrumentEvent e) => new(
            e.Meaning, e.Line.ReceivedAt, e.Line.Text, e.Note, (e as InstrumentEvent.ReadingTaken)?.Reading.Densities.ToString());
    }

    private sealed class Opens(IByteLink link) : ILinkOpener
    {
        public ValueTask<IByteLink> OpenAsync(LinkAddress address, LinkSettings settings, CancellationToken cancellationToken) => new(link);
    }
}
