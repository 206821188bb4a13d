// Runs test programs side by side and counts; its last line is "N passed, N failed", with ", N skipped" where some are.
// usage: TestRun [--fast] [--silence SECONDS] [--limit SECONDS] [--times FILE] PROGRAM...
//   --fast     leaves out the tests that carry the trait speed=slow
//   --silence  a program in which no test ends or says anything for so long hangs, and is killed
//   --limit    a program that runs for so long is killed
//   --times    writes there what each test took, slowest first
using TestRun;

var (fast, times, programs) = (false, (string?)null, new Queue<string>());
var (silence, limit) = (TimeSpan.FromMinutes(3), TimeSpan.FromMinutes(13));
for (var i = 0; i < args.Length; i++)
{
    switch (args[i])
    {
        case "--fast":
            fast = true;
            break;
        case "--silence":
            silence = Seconds(args[++i]);
            break;
        case "--limit":
            limit = Seconds(args[++i]);
            break;
        case "--times":
            times = args[++i];
            break;
        default:
            programs.Enqueue(args[i]);
            break;
    }
}

using var stop = new CancellationTokenSource();
Console.CancelKeyPress += (_, e) =>
{
    e.Cancel = true;
    stop.Cancel();
};

// Two at once even on one core: a suite that starts processes and waits for them leaves time for another.
var output = TextWriter.Synchronized(Console.Out);
var waiting = programs;
var suites = new List<SuiteResults>();
await Task.WhenAll(Enumerable.Range(0, Math.Max(2, Environment.ProcessorCount / 2)).Select(_ => LaneAsync()));

var results = suites.SelectMany(s => s.Ended).ToList();
if (times is not null)
{
    await File.WriteAllLinesAsync(times, results.OrderByDescending(r => r.Seconds).Select(r => r.ToString()));
}

foreach (var slow in results.Where(r => r.Seconds > TestResult.SlowBeyondDoubt && !r.IsMarkedSlow).OrderByDescending(r => r.Seconds))
{
    output.WriteLine($"Slow and without the trait speed=slow: {slow.Seconds:0.0} s {slow.Name}");
}

int Count(Outcome outcome) => results.Count(r => r.Outcome == outcome);
var (passed, failed, skipped) = (Count(Outcome.Passed), Count(Outcome.Failed), Count(Outcome.Skipped));
if (failed > 0)
{
    output.WriteLine(
        string.Join(Environment.NewLine, results.Where(r => r.Outcome == Outcome.Failed).Select(r => "  " + r.Name).Prepend("Failed:")));
}

output.WriteLine($"{passed} passed, {failed} failed" + (skipped > 0 ? $", {skipped} skipped" : ""));
return failed == 0 && passed > 0 ? 0 : 1;

async Task LaneAsync()
{
    while (!stop.IsCancellationRequested && waiting.TryDequeue(out var program))
    {
        var results = new SuiteResults(Path.GetFileName(program), TimeProvider.System, output);
        suites.Add(results);
        await new SuiteRun(program, fast, silence, limit, TimeProvider.System).IntoAsync(results, stop.Token);
    }
}

static TimeSpan Seconds(string text) => TimeSpan.FromSeconds(double.Parse(text, CultureInfo.InvariantCulture));
