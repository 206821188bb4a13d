using Benchmarks;
using Benchmarks.Live;

// Usage: Benchmarks [--groups arrival,idle,start] [--strips N] [--seconds N] [--starts N] [--json] [--strict]
// What a service costs, each time beside the least that does the same, in turns and in one run. Default: 8 strips, 20 seconds, 7 starts.
// --strict: exit code 1 when an aim is missed by more than half as much again; a busy machine is told, and makes no aim met.
var groups = Option("--groups")?.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)
    ?? ["arrival", "idle", "start"];
if (groups.Except(["arrival", "idle", "start"]).FirstOrDefault() is { } unknown)
{
    await Console.Error.WriteLineAsync($"There is no group '{unknown}'; there are arrival, idle, start.");
    return 2;
}

using var end = new CancellationTokenSource();
Console.CancelKeyPress += (_, pressed) =>
{
    pressed.Cancel = true;
    end.Cancel();
};
var busy = Machine.Busy();
var figures = new List<Figure>();
if (groups.Contains("arrival"))
{
    figures.AddRange(await Arrival.MeasureAsync(Number("--strips", 8), end.Token));
}

if (groups.Contains("idle"))
{
    figures.AddRange(await Idle.MeasureAsync(TimeSpan.FromSeconds(Number("--seconds", 20)), end.Token));
}

if (groups.Contains("start"))
{
    figures.AddRange(await Starts.MeasureAsync(Number("--starts", 7), end.Token));
}

Console.WriteLine(args.Contains("--json") ? Report.Json(figures, busy) : Report.Text(figures, busy));
return args.Contains("--strict") && figures.Exists(f => f.IsMissedByFar) ? 1 : 0;

string? Option(string name) => Array.IndexOf(args, name) is var at and >= 0 && at + 1 < args.Length ? args[at + 1] : null;

int Number(string name, int usual) =>
    Option(name) is { } given ? Math.Max(1, int.Parse(given, NumberStyles.None, CultureInfo.InvariantCulture)) : usual;
