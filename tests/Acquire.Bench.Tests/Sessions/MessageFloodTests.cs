using Acquire.Bench.Sessions;
using Acquire.Instruments.Lines;
using Acquire.Instruments.ProfileFiles;

namespace Acquire.Bench.Tests.Sessions;

/// <summary>What is said of lines that are no readings, a few of them or very many.</summary>
public sealed class MessageFloodTests
{
    private const string Reading = "R 0.26 G 0.62 B 0.80\r\n";

    private readonly SessionProgress _progress = new(Some.Plan(3));
    private readonly LineReception _lines = new(new ProfileLibrary().Find("labelled-line"));
    private readonly List<BenchUpdate> _shown = [];
    private DateTimeOffset _now = Some.Moment;

    private IEnumerable<string> Attention => _shown.OfType<BenchUpdate.Attention>().Select(a => a.Message);

    /// <summary>Random bytes as fast as a network brings them, and over an hour as a line of 9600 baud does.</summary>
    [Theory]
    [InlineData(1_000_000, 20)]
    [InlineData(960, 130)]
    public void Noise_is_told_a_few_times_with_its_count_and_every_line_is_kept(int bytesPerSecond, int most)
    {
        var random = new Random(5);
        var chunk = new byte[1024];
        for (var sent = 0; sent < 2_000_000; sent += chunk.Length)
        {
            random.NextBytes(chunk);
            Take(chunk);
            _now += TimeSpan.FromSeconds((double)chunk.Length / bytesPerSecond);
        }

        Take(System.Text.Encoding.ASCII.GetBytes("\r\n" + Reading));
        Assert.InRange(_progress.Lines.Count, 10_000, 100_000);
        Assert.InRange(_shown.Count, 9, most);
        Assert.Equal(1, _progress.Strip.ReadsTaken);
        // Nothing is left out without being counted.
        var counted = _shown.Select(Text).Sum(
            t => System.Text.RegularExpressions.Regex.Match(t, "Before it came ([0-9]+) more") is { Success: true } m
                ? int.Parse(m.Groups[1].Value, CultureInfo.InvariantCulture)
                : 0);
        Assert.Equal(
            _progress.Lines.Count - 1, counted + Attention.Count() + _shown.OfType<BenchUpdate.Remark>().Count());
    }

    [Fact]
    public void Person_who_tries_every_second_or_two_is_answered_every_time()
    {
        for (var i = 0; i < 30; i++)
        {
            Take("OVER RANGE\r\n"u8);
            _now += TimeSpan.FromSeconds(2);
        }

        Assert.Equal(30, Attention.Count());
    }

    [Fact]
    public void Few_lines_before_each_reading_are_all_shown_however_fast_they_come()
    {
        for (var i = 0; i < 6; i++)
        {
            Take("No. 1\r\nNo. 2\r\nNo. 3\r\nwhat?\r\n"u8);
            Take(System.Text.Encoding.ASCII.GetBytes(Reading));
        }

        Assert.Equal((6, 18, 6), (
            Attention.Count(), _shown.OfType<BenchUpdate.Remark>().Count(), _shown.OfType<BenchUpdate.Accepted>().Count()));
    }

    [Fact]
    public void Clock_that_is_set_back_silences_nothing()
    {
        for (var i = 0; i < 100; i++)
        {
            Take("what?\r\n"u8);
        }

        var before = Attention.Count();
        _now -= TimeSpan.FromHours(1);
        Take("what?\r\n"u8);
        Assert.Equal(before + 1, Attention.Count());
        Assert.Contains("more lines that are kept", Attention.Last(), StringComparison.Ordinal);
    }

    private static string Text(BenchUpdate update) => update switch
    {
        BenchUpdate.Attention { Message: var message } => message,
        BenchUpdate.Notice { Text: var text } => text,
        _ => "",
    };

    private void Take(ReadOnlySpan<byte> bytes)
    {
        var reception = _lines.Take(new JournalEntry(0, _now, JournalEvent.Received) { Bytes = [.. bytes] });
        _progress.Add(reception.Events);
        foreach (var received in reception.Events)
        {
            _shown.AddRange(_progress.Take(received));
        }
    }
}
