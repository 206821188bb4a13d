using Acquire.Instruments.Simulation;
using Acquire.Instruments.Tests.Profiles;
using Microsoft.Extensions.Time.Testing;

namespace Acquire.Instruments.Tests.Simulation;

public sealed class SimulatedDensitometerTests
{
    private static readonly SimulatedDensitometerOptions Hurried = new()
    {
        ReadsPerPatch = 2,
        Strips = 1,
        BeforeFirst = TimeSpan.Zero,
        BetweenReadings = TimeSpan.Zero,
        BetweenStrips = TimeSpan.Zero,
    };

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Strip_is_read_in_order_each_patch_as_often_as_asked()
    {
        var (port, readings) = await RunAsync(Hurried);

        Assert.Equal(
            ["dmin", "dmin", "ld", "ld", "hd", "hd", "dmax", "dmax", "yellow", "yellow"], readings.Select(r => r.PatchKey));
        Assert.Equal(10, port.Writes.Count());
        Assert.All(
            readings.Zip(port.Writes),
            pair => Assert.Contains(pair.First.Densities.Red.ToString()!, pair.Second, StringComparison.Ordinal));
    }

    [Fact]
    public async Task Same_options_give_the_same_bytes()
    {
        var options = Hurried with { Strips = 20, Faults = new SimulatedFaults { Repeat = 0.1, Skip = 0.1, Garble = 0.1, Error = 0.1 } };

        var first = await RunAsync(options);
        var again = await RunAsync(options);
        var other = await RunAsync(options with { Seed = 2 });

        Assert.Equal(first.Port.Text, again.Port.Text);
        Assert.NotEqual(first.Port.Text, other.Port.Text);
    }

    [Fact]
    public async Task Faults_leave_the_readings_themselves_alone()
    {
        var clean = await RunAsync(Hurried with { Strips = 5 });
        var faulty = await RunAsync(Hurried with { Strips = 5, Faults = new SimulatedFaults { Repeat = 0.5, Garble = 0.5, Skip = 0.5 } });

        Assert.Equal(clean.Readings.Select(r => r.Densities), faulty.Readings.Select(r => r.Densities));
    }

    [Fact]
    public async Task Repeated_reading_is_sent_twice()
    {
        var (port, readings) = await RunAsync(Hurried with { Faults = new SimulatedFaults { Repeat = 1 } });

        Assert.All(readings, r => Assert.Equal(ReadingFaults.Repeated, r.Faults));
        Assert.All(port.Writes.Chunk(2), pair => Assert.Equal(pair[0], pair[1]));
        Assert.Equal(20, port.Writes.Count());
    }

    [Fact]
    public async Task Skipped_patch_is_not_sent()
    {
        var (port, readings) = await RunAsync(Hurried with { Faults = new SimulatedFaults { Skip = 1 } });

        Assert.Equal(10, readings.Count(r => r.Faults == ReadingFaults.Skipped));
        Assert.Empty(port.Writes);
    }

    [Fact]
    public async Task Garbled_line_differs_in_one_bit()
    {
        var clean = await RunAsync(Hurried);
        var garbled = await RunAsync(Hurried with { Faults = new SimulatedFaults { Garble = 1 } });

        Assert.All(garbled.Readings, r => Assert.Equal(ReadingFaults.Garbled, r.Faults));
        Assert.All(clean.Port.Writes.Zip(garbled.Port.Writes), pair => Assert.Equal(
            1, pair.First.Zip(pair.Second).Sum(c => int.PopCount(c.First ^ c.Second))));
    }

    [Fact]
    public async Task Split_line_comes_in_two_pieces_that_make_it_whole()
    {
        var clean = await RunAsync(Hurried);
        var split = await RunAsync(Hurried with { Faults = new SimulatedFaults { Split = 1 } });

        Assert.Equal(20, split.Port.Writes.Count());
        Assert.All(split.Port.Writes, piece => Assert.NotEmpty(piece));
        Assert.Equal(clean.Port.Text, split.Port.Text);
    }

    [Theory]
    [InlineData(0.0)]
    [InlineData(0.2)]
    [InlineData(1.0)]
    public async Task Fault_happens_as_often_as_asked(double probability)
    {
        var (_, readings) = await RunAsync(Hurried with { Strips = 100, Faults = new SimulatedFaults { Repeat = probability } });

        // 1000 readings; four standard deviations of the binomial distribution.
        var allowed = 4 * Math.Sqrt(1000 * probability * (1 - probability));
        Assert.Equal(1000 * probability, readings.Count(r => r.Faults == ReadingFaults.Repeated), allowed + 1e-9);
    }

    [Fact]
    public async Task Patch_beyond_the_range_and_errors_are_sent_as_the_profile_writes_them()
    {
        var (_, readings) = await RunAsync(Hurried with { Faults = new SimulatedFaults { BeyondRangePatch = "dmax", Error = 1 } });

        Assert.Equal(
            ["dmax", "dmax"], readings.Where(r => r.Faults.HasFlag(ReadingFaults.BeyondRange)).Select(r => r.PatchKey));
        Assert.All(readings, r => Assert.True(r.Faults.HasFlag(ReadingFaults.ErrorFirst)));
    }

    [Fact]
    public async Task Readings_come_at_the_pace_that_was_set()
    {
        var time = new FakeTimeProvider();
        var start = time.GetUtcNow();
        var options = new SimulatedDensitometerOptions { ReadsPerPatch = 1, Strips = 2 };
        List<double> seconds = [];
        var readings = new ReadingList(_ => seconds.Add((time.GetUtcNow() - start).TotalSeconds));
        var running = Instrument(new RecordingPort(), options, time).RunAsync(readings, Token);
        while (!running.IsCompleted)
        {
            time.Advance(TimeSpan.FromSeconds(1));
            await Task.Yield();
        }

        await running;
        Assert.Equal(1, seconds[0]);
        Assert.All(seconds.Zip(seconds.Skip(1)).Where((_, i) => i != 4), gap => Assert.InRange(gap.Second - gap.First, 2, 3));
        Assert.InRange(seconds[5] - seconds[4], 10, 11);
    }

    [Fact]
    public async Task New_listener_gets_the_strip_from_its_beginning()
    {
        var port = new RecordingPort();
        var count = 0;
        var readings = new ReadingList(_ =>
        {
            if (++count == 5)
            {
                port.ReplaceListener();
            }
        });

        await Instrument(port, Hurried, TimeProvider.System).RunAsync(readings, Token);

        Assert.Equal(15, readings.All.Length);
        Assert.Equal(["hd", "dmin", "dmin"], readings.All[4..7].Select(r => r.PatchKey));
    }

    [Fact]
    public async Task One_patch_is_read_when_asked()
    {
        var port = new RecordingPort();
        var instrument = Instrument(port, Hurried, TimeProvider.System);

        var first = await instrument.ReadPatchAsync("hd", Token);
        instrument.TakeNextStrip();
        var second = await instrument.ReadPatchAsync("hd", Token);

        Assert.Equal((0, 1), (first.Strip, second.Strip));
        Assert.Equal(2, port.Writes.Count());
        _ = await Assert.ThrowsAsync<ArgumentException>(() => instrument.ReadPatchAsync("md", Token));
    }

    [Fact]
    public void Wrong_options_are_all_named()
    {
        var options = new SimulatedDensitometerOptions
        {
            ReadsPerPatch = 0,
            Strips = 0,
            BetweenReadings = TimeSpan.FromSeconds(-1),
            Faults = new SimulatedFaults { Repeat = 1.5, Garble = double.NaN, SplitGap = TimeSpan.FromSeconds(2) },
        };

        var e = Assert.Throws<ArgumentException>(options.Demand);

        Assert.Equal(
            "The simulated densitometer cannot work so: the probability of 'repeat' is 1.5; expected 0 to 1; "
            + "the probability of 'garble' is NaN; expected 0 to 1; the gap in split lines is 00:00:02; expected 0 to 1 s; "
            + "the pause between readings is -00:00:01; expected 0 to 1 h; the reads per patch are 0; expected 1 to 50; "
            + "the number of strips is 0; expected 1 or more.",
            e.Message);
    }

    [Fact]
    public void Options_have_the_stated_defaults()
    {
        var options = new SimulatedDensitometerOptions();

        options.Demand();
        Assert.Equal((1, 3, null), (options.Seed, options.ReadsPerPatch, options.Strips));
        Assert.Equal([1, 2, 10], new[] { options.BeforeFirst, options.BetweenReadings, options.BetweenStrips }.Select(p => p.TotalSeconds));
        Assert.Equal(new SimulatedFaults(), options.Faults);
    }

    private static SimulatedDensitometer Instrument(RecordingPort port, SimulatedDensitometerOptions options, TimeProvider time) =>
        new(ShippedProfiles.Get("labelled-line"), FilmStories.OnAim, port, options, time);

    // Pauses of faults are made to pass at once.
    private static async Task<(RecordingPort Port, SimulatedReading[] Readings)> RunAsync(SimulatedDensitometerOptions options)
    {
        var (port, readings, time) = (new RecordingPort(), new ReadingList(), new FakeTimeProvider());
        var running = Instrument(port, options, time).RunAsync(readings, Token);
        while (!running.IsCompleted)
        {
            time.Advance(TimeSpan.FromSeconds(1));
            await Task.Yield();
        }

        await running;
        return (port, readings.All);
    }
}
