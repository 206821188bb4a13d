using Acquire.Analysis.Plausibility;
using Acquire.Bench.Sessions;
using Acquire.Instruments.Lines;
using Acquire.Instruments.ProfileFiles;
using Acquire.Instruments.Profiles;

namespace Acquire.Bench.Tests.Sessions;

/// <summary>
/// One character is lost on the line, anywhere in a strip that is read with a shipped profile, without aims and keyboard.
/// </summary>
public sealed class LostDigitTests
{
    private static readonly decimal[][] Densities =
        [[0.26m, 0.62m, 0.80m], [0.46m, 0.84m, 1.04m], [1.26m, 1.74m, 2.00m], [2.12m, 2.58m, 2.92m], [0.37m, 0.88m, 2.72m]];

    public static TheoryData<string> Shipped => [.. new ProfileLibrary().List().Select(p => p.Name)];

    [Theory]
    [MemberData(nameof(Shipped))]
    public void Whatever_character_is_lost_no_other_density_is_kept_without_a_question(string name)
    {
        var profile = new ProfileLibrary().Find(name);
        var readings = Densities.Select(d => Bytes(profile, d)).ToList();
        var truth = Densities.Select(d => Of(profile, d)).ToHashSet();
        List<string> unasked = [];
        var (tried, wrong) = (0, 0);
        for (var patch = 0; patch < readings.Count; patch++)
        {
            for (var at = 0; at < readings[patch].Sum(l => l.Length); at++)
            {
                tried++;
                var progress = Read(profile, readings, patch, at);
                var kept = progress.Strip.Patches.SelectMany(p => p.Reads).Select(r => r.Reading).ToList();
                if (kept.FirstOrDefault(r => !truth.Contains(r.Densities)) is { } other)
                {
                    wrong++;
                    unasked.AddRange(progress.Questions.All.All(q => q.Asked.Kind != "lost_digit")
                        ? [string.Join(" / ", other.Lines.Select(l => l.Text))]
                        : []);
                }
            }
        }

        TestContext.Current.TestOutputHelper?.WriteLine(
            FormattableString.Invariant($"{name}: {tried} deletions, {wrong} pass for another reading, {unasked.Count} unasked."));
        Assert.Empty(unasked);
        // Eight densities of the strip are 1 or more; only a fixed number of digits, or a place with a width, shows the loss by itself.
        var shows = profile.Number is { WholeDigits: not null } or { DecimalMark: DecimalMark.Implied };
        Assert.Equal(shows ? 0 : 8, wrong);
    }

    /// <summary>Where the nought is left out before every density below 1 nothing shows by the writing, and nothing is asked.</summary>
    [Fact]
    public void Instrument_that_writes_no_nought_is_not_asked_about()
    {
        var progress = new SessionProgress(AskedStrip.Plan());
        foreach (var (i, line) in new[] { " .26  .62  .80", " .46  .84 1.04", "1.26 1.74 2.00", "2.12 2.58 2.92", " .37  .88 2.72" }
            .Index())
        {
            Take(progress, new LineReception(new ProfileLibrary().Find("rgb-columns")), line + "\r\n", Some.Moment.AddSeconds(5 * i));
        }

        Assert.True(progress.Strip.IsComplete);
        Assert.Empty(progress.Questions.All);
    }

    [Fact]
    public void Question_names_the_value_and_leaves_the_reading_out()
    {
        var progress = new SessionProgress(AskedStrip.Plan(reads: 2));
        var lines = new LineReception(new ProfileLibrary().Find("labelled-line"));
        Take(progress, lines, "R 0.26 G 0.62 B 0.80\r\n", Some.Moment);
        Take(progress, lines, "R 0.26 G 0.62 B .80\r\n", Some.Moment.AddSeconds(5));
        var asked = Assert.Single(progress.Questions.All).Asked;
        Assert.Equal("lost_digit", asked.Kind);
        Assert.StartsWith(
            "A reading of D-min came as blue .80, without a digit before the point", asked.Question, StringComparison.Ordinal);
        Assert.Equal(new Remedy.LeaveOutRead(
            new ReadPlace("dmin", 1), "a digit before the point may have been lost in blue"), asked.Remedy);
        _ = progress.Carry(new BenchCommand.AcceptRemedy(asked.Key), Some.Moment);
        Assert.Equal((1, 2), (progress.Strip.Patches[0].Accepted.Count(), progress.Strip.Next!.Read));
    }

    /// <summary>The strip with one byte missing; what was not taken for it is read once more.</summary>
    private static SessionProgress Read(DeviceProfile profile, List<List<byte[]>> readings, int patch, int lost)
    {
        var progress = new SessionProgress(AskedStrip.Plan());
        var lines = new LineReception(profile);
        var now = Some.Moment;
        for (var i = 0; i < readings.Count; i++)
        {
            var bytes = readings[i].Select(l => l.AsEnumerable()).ToList();
            var at = lost;
            for (var l = 0; l < bytes.Count && i == patch; at -= readings[i][l].Length, l++)
            {
                var here = at;
                bytes[l] = readings[i][l].Where((_, n) => n != here);
            }

            for (var tries = 0; tries < 2 && progress.Strip.ReadsTaken <= i; tries++)
            {
                now += TimeSpan.FromSeconds(9);
                foreach (var line in tries == 0 ? bytes : [.. readings[i]])
                {
                    Take(progress, lines, System.Text.Encoding.Latin1.GetString([.. line]), now);
                }
            }
        }

        return progress;
    }

    private static void Take(SessionProgress progress, LineReception lines, string text, DateTimeOffset at)
    {
        var questioner = new SessionQuestioner(new StripKnowledge(AskedStrip.Sheet, AskedStrip.Sheet.Layout), atKeyboard: false);
        foreach (var entry in new[]
        {
            new JournalEntry(0, at, JournalEvent.Received) { Bytes = [.. System.Text.Encoding.Latin1.GetBytes(text)] },
            new JournalEntry(0, at.AddSeconds(1), JournalEvent.Paused),
        })
        {
            foreach (var received in lines.Take(entry).Events)
            {
                _ = progress.Take(received);
                if (questioner.Next(progress) is { } question)
                {
                    _ = progress.Carry(new BenchCommand.Ask(question, progress.Strip.ReadsTaken), at);
                }
            }
        }
    }

    private static List<byte[]> Bytes(DeviceProfile profile, decimal[] rgb) =>
        [.. new LineWriter(profile).WriteReading(Of(profile, rgb))];

    private static ChannelDensities Of(DeviceProfile profile, decimal[] rgb)
    {
        var visual = new LineWriter(profile).Channels.Contains(Channel.Visual);
        return new ChannelDensities(new Density(rgb[0]), new Density(rgb[1]), new Density(rgb[2]), visual ? new Density(rgb[1]) : null);
    }
}
