using Acquire.Bench.Lots;
using Acquire.Bench.Processes;
using Acquire.Bench.Readings;
using Acquire.Storage.Inspection;
using Acquire.Bench.Sessions;
using Acquire.Formats.ProcessSheets;

namespace Acquire.Bench.Tests.Sessions;

/// <summary>The system's time of day is set back while a strip is read.</summary>
public sealed class ClockSetBackTests
{
    private static CancellationToken Token => TestContext.Current.CancellationToken;

    /// <summary>Every pace is a person's, and every read is of its patch.</summary>
    [Fact]
    public void Nothing_is_asked_of_readings_that_are_right()
    {
        var progress = Asked(["dmin", "dmin", "dmin", "ld", "ld", "ld", "hd", "hd"], setBackBefore: 4);
        Assert.Empty(progress.Questions.All);
    }

    /// <summary>The read that came last is looked at, though reads of a later time stand before it.</summary>
    [Fact]
    public void Wrong_patch_after_it_is_asked_about_at_once()
    {
        var progress = Asked(["dmin", "dmin", "dmin", "ld", "ld", "ld", "dmax"], setBackBefore: 5);
        var asked = Assert.Single(progress.Questions.All).Asked;
        Assert.Contains("HD", asked.Question, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Strip_is_kept_whole_and_the_store_stays_sound()
    {
        var folder = Directory.CreateTempSubdirectory("acquire-clock-");
        try
        {
            var time = new WrongClock();
            await using (var store = await EmptyStore.OpenAsync(folder.FullName, time, Token))
            {
                var lots = new LotBook(store, new ProcessLibrary(Path.Combine(folder.FullName, "processes")), time);
                await store.AddLotAsync(new StripLot("4410", "c41", ShippedSheets.Get("c41").Layout, []), Token);
                var (link, display) = (new ScriptedLink(), new Shown());
                var reading = new ReadingDesk(store, lots, link, time, Microsoft.Extensions.Logging.Abstractions.NullLogger.Instance)
                    .ReadAsync(
                    new StripRequest { Lot = "4410", ForBaseline = true }, Desk.Terms(1), Desk.Seat(display), Token);
                foreach (var (i, line) in new[] { "0.26", "0.46", "1.26", "2.12", "0.37" }.Index())
                {
                    time.Offset = i < 2 ? TimeSpan.Zero : TimeSpan.FromHours(-i);
                    link.Send($"R {line} G 2.62 B 2.80\r\n");
                    while (display.Taken <= i)
                    {
                        Assert.False(reading.IsCompleted && display.Taken < i, reading.Exception?.ToString());
                        await Task.Delay(TimeSpan.FromMilliseconds(2), TimeProvider.System, Token);
                    }
                }

                var kept = (await reading).Kept!.Record;
                Assert.Equal(
                    [0.26m, 0.46m, 1.26m, 2.12m, 0.37m], kept.Patches.Select(p => p.Reads[0].Reading.Densities.Red!.Value.Value));
                Assert.True(kept.Patches[4].Reads[0].Reading.At < kept.Patches[0].Reads[0].Reading.At);
                Assert.Equal(kept.Means, (await store.FindStripAsync(kept.Id.ToString(), Token))!.Means);
            }

            var report = await StoreInspection.InspectAsync(Path.Combine(folder.FullName, "acquire.db"), time, Token);
            Assert.True(report.IsSound, string.Join("; ", report.Findings.Select(f => f.What)));
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    private static SessionProgress Asked(string[] patches, int setBackBefore)
    {
        var progress = new SessionProgress(AskedStrip.Plan(reads: 3));
        var questioner = AskedStrip.Questioner();
        foreach (var (i, key) in patches.Index())
        {
            var at = Some.Moment.AddSeconds(9 * i) - (i >= setBackBefore ? TimeSpan.FromHours(1) : TimeSpan.Zero);
            _ = progress.Take(AskedStrip.Taken(key, at));
            if (questioner.Next(progress) is { } question)
            {
                _ = progress.Carry(new BenchCommand.Ask(question, progress.Strip.ReadsTaken), at);
            }
        }

        return progress;
    }

    /// <summary>A system whose time of day somebody sets; what is measured runs on.</summary>
    private sealed class WrongClock : TimeProvider
    {
        public TimeSpan Offset { get; set; }

        public override DateTimeOffset GetUtcNow() => base.GetUtcNow() + Offset;
    }

    private sealed class Shown : IBenchDisplay
    {
        public int Taken { get; private set; }

        public void Show(BenchUpdate update) => Taken += update is BenchUpdate.Accepted ? 1 : 0;
    }
}
