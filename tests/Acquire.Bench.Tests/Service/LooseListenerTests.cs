using Acquire.Bench.Service;
using Acquire.Bench.Sessions;
using Acquire.Instruments.Lines;
using Acquire.Instruments.ProfileFiles;
using Acquire.Instruments.Profiles;
using CsCheck;

namespace Acquire.Bench.Tests.Service;

/// <summary>Loose readings are the readings of the stream, however its bytes were cut, and each is read again from its own bytes.</summary>
public sealed class LooseListenerTests
{
    private static readonly TimeSpan BetweenReadings = TimeSpan.FromSeconds(3);

    public static TheoryData<string> Shipped => [.. new ProfileLibrary().List().Select(e => e.Name)];

    /// <summary>
    /// Readings one after another, either in one breath, so that chunks hold the end of one and the beginning of the next, or with pauses
    /// and with lines between them that are none. Six at most: as many as the session has places for.
    /// </summary>
    [Theory]
    [MemberData(nameof(Shipped))]
    public void Any_split_into_chunks_gives_the_same_readings_and_a_session_begun_with_them(string name)
    {
        var profile = new ProfileLibrary().Find(name);
        Gen.Select(Gen.Int[1, 6], Gen.Int, Gen.Bool).Sample(
            (count, seed, inOneBreath) => AssertSame(profile, count, seed, inOneBreath && profile.Framing.IdleGap is null),
            iter: 150,
            threads: 1);
    }

    [Fact]
    public void Reading_keeps_its_lines_where_others_come_between_and_not_those_of_a_reading_that_was_given_up()
    {
        var profile = new ProfileLibrary().Find("channel-lines-plain");
        var listener = Listener(profile);
        var all = Chunks(["9.", "99\n"], 0).Concat(Chunks(["0.2", "6\n----------\n0.6", "2\n0.80\n0.9"], 60)).ToList();
        var loose = Assert.Single(all.SelectMany((e, i) => listener.Take(e with { Sequence = i + 1 })));
        Assert.Equal(["0.26", "0.62", "0.80"], loose.Reading.Lines.Select(l => l.Text));
        Assert.Equal("0.26\n0.62\n0.80\n", Text(loose));
        Assert.Equal(5, loose.Id.Sequence);
    }

    [Fact]
    public void Line_that_was_cut_by_the_opening_of_another_link_is_in_no_reading()
    {
        var listener = Listener(new ProfileLibrary().Find("labelled-line"));
        var all = Chunks(["R 0.26 G 0.6"], 0).Append(new JournalEntry(0, Some.Moment, JournalEvent.Opened))
            .Concat(Chunks(["R 0.31 G 0.61 B 0.81\r\n"], 1)).ToList();
        var loose = Assert.Single(all.SelectMany((e, i) => listener.Take(e with { Sequence = i + 1 })));
        Assert.StartsWith("R 0.31", Text(loose), StringComparison.Ordinal);
    }

    /// <summary>What is held is bounded: 400 kB without a line end, and the reading after it is whole.</summary>
    [Fact]
    public void Noise_without_an_end_is_forgotten()
    {
        var listener = Listener(new ProfileLibrary().Find("labelled-line"));
        var noise = new string('#', 4000);
        var all = Chunks([.. Enumerable.Repeat(noise, 100), "\r\nR 0.31 G 0.61 B 0.81\r\n"], 0).ToList();
        var loose = Assert.Single(all.SelectMany((e, i) => listener.Take(e with { Sequence = i + 1 })));
        Assert.Equal("R 0.31 G 0.61 B 0.81", Text(loose).Trim());
    }

    private static void AssertSame(DeviceProfile profile, int count, int seed, bool inOneBreath)
    {
        var dice = new Random(seed);
        var writer = new LineWriter(profile);
        var stream = new List<(byte[] Bytes, DateTimeOffset At)>();
        for (var i = 0; i < count; i++)
        {
            var at = Some.Moment + (inOneBreath ? TimeSpan.Zero : BetweenReadings * stream.Count);
            var densities = new ChannelDensities(
                new Density(dice.Next(20, 90) / 100m), new Density(0.62m), new Density(dice.Next(60, 99) / 100m), new Density(0.58m));
            stream.Add(([.. writer.WriteReading(densities).SelectMany(l => l)], at));
            if (!inOneBreath && dice.Next(3) == 0)
            {
                stream.Add(([.. writer.WriteError().SelectMany(l => l)], at + BetweenReadings));
            }
        }

        var whole = new LineReception(profile);
        var opened = new JournalEntry(1, Some.Moment, JournalEvent.Opened);
        var ending = new JournalEntry(0, stream[^1].At + BetweenReadings, JournalEvent.Paused);
        var expected = stream.Select(s => Received(s.Bytes, s.At)).Prepend(opened).Append(ending)
            .SelectMany(e => whole.Take(e).Events).OfType<InstrumentEvent.ReadingTaken>().Select(e => e.Reading).ToList();
        Assert.Equal(count, expected.Count);

        var listener = Listener(profile);
        var cut = Cut(stream, dice, inOneBreath).Prepend(opened).Append(ending).ToList();
        var loose = cut.SelectMany((e, i) => listener.Take(e with { Sequence = i + 1 })).ToList();
        Assert.Equal(expected.Select(Of), loose.Select(l => Of(l.Reading)));
        Assert.Equal(loose.Count, loose.Select(l => l.Id).Distinct().Count());

        // All, and the last few alone.
        foreach (var taken in new[] { loose, loose[dice.Next(loose.Count)..] })
        {
            var begun = SessionProgress.Rebuild(
                Some.Plan(3), profile, LooseReadings.Of(taken).Entries.Select((e, i) => e with { Sequence = i + 1 }));
            Assert.Equal(
                taken.Select(l => Of(l.Reading)),
                begun.Strip.Patches.SelectMany(p => p.Reads).Select(r => Of(r.Reading)));
            Assert.Equal(taken.Sum(l => l.Reading.Lines.Length), begun.Lines.Count);
        }
    }

    /// <summary>Chunks that end anywhere; in one breath they pass over the ends of readings.</summary>
    private static IEnumerable<JournalEntry> Cut(List<(byte[] Bytes, DateTimeOffset At)> stream, Random dice, bool inOneBreath)
    {
        List<(byte[] Bytes, DateTimeOffset At)> breaths = inOneBreath
            ? [([.. stream.SelectMany(s => s.Bytes)], stream[0].At)]
            : stream;
        foreach (var (bytes, at) in breaths)
        {
            for (var from = 0; from < bytes.Length;)
            {
                var to = Math.Min(bytes.Length, from + dice.Next(1, 20));
                yield return Received(bytes[from..to], at);
                from = to;
            }

            if (dice.Next(2) == 0)
            {
                yield return new JournalEntry(0, at + (BetweenReadings / 2), JournalEvent.Paused);
            }
        }
    }

    private static string Of(Reading reading) =>
        $"{reading.Densities} {reading.At:O} {string.Join('|', reading.Lines.Select(l => l.Text))}";

    private static string Text(LooseReading loose) => string.Concat(
        loose.Entries.Where(e => e.Event == JournalEvent.Received).Select(e => System.Text.Encoding.ASCII.GetString(e.Bytes.AsSpan())));

    private static IEnumerable<JournalEntry> Chunks(IEnumerable<string> texts, int second) =>
        texts.Select(t => Received(System.Text.Encoding.ASCII.GetBytes(t), Some.Moment.AddSeconds(second)));

    private static JournalEntry Received(byte[] bytes, DateTimeOffset at) => new(0, at, JournalEvent.Received) { Bytes = [.. bytes] };

    private static LooseListener Listener(DeviceProfile profile) => new(
        new Listening(
            Guid.CreateVersion7(Some.Moment), "bench", "desk", new ProfileText(profile.Name, profile.Hash, profile.Text), Some.Moment),
        profile);
}
