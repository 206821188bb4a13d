using System.Diagnostics;
using TruthBenchmark.Claims;
using TruthBenchmark.Claims.Cost;
using TruthBenchmark.Claims.Drift;
using TruthBenchmark.Claims.Life;
using TruthBenchmark.Claims.RunLengths;
using TruthBenchmark.Claims.Verdicts;
using TruthBenchmark;

// Usage: TruthBenchmark [--seed N] [--groups verdicts,drift,...] [--short]
var groups = Option("--groups")?.Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
IClaims[] all = [new VerdictClaims(), new DriftClaims(), new LifeClaims(), new RunLengthClaims(), new CostClaims()];
if (groups?.FirstOrDefault(g => !all.Any(a => a.Name == g)) is { } unknown)
{
    Console.Error.WriteLine($"There is no group '{unknown}'; there are {string.Join(", ", all.Select(a => a.Name))}.");
    return 2;
}

var run = new Run(long.Parse(Option("--seed") ?? "20260105", CultureInfo.InvariantCulture), args.Contains("--short"));
var missed = 0;
foreach (var group in all.Where(a => groups?.Contains(a.Name) ?? true))
{
    var before = Process.GetCurrentProcess().TotalProcessorTime;
    Table.Heading(group.Name, run);
    foreach (var claim in group.Of(run))
    {
        Table.Row(claim);
        missed += claim.Standing == Standing.Missed ? 1 : 0;
    }

    Table.Cost(Process.GetCurrentProcess().TotalProcessorTime - before);
}

Console.WriteLine(missed == 0 ? "Every aim is met." : $"{missed} aims are missed by more than two standard errors.");
return missed == 0 ? 0 : 1;

string? Option(string name) => Array.IndexOf(args, name) is var at and >= 0 && at + 1 < args.Length ? args[at + 1] : null;
