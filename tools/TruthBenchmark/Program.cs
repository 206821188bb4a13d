using TruthBenchmark;

// Usage: TruthBenchmark [verdicts|runlengths|drift|causes|life|speed|all] [trials] [seed]
var part = args is [var p, ..] ? p : "all";
var trials = args is [_, var t, ..] ? int.Parse(t, CultureInfo.InvariantCulture) : 2000;
var seed = args is [_, _, var s, ..] ? int.Parse(s, CultureInfo.InvariantCulture) : 1;
var parts = new Dictionary<string, Action>
{
    ["runlengths"] = () => RunLengths.Print(trials, seed),
    ["drift"] = () => DriftDelays.Print(trials / 4, seed),
    ["verdicts"] = () => VerdictRisks.Print(trials, seed),
    ["causes"] = () => CauseRanks.Print(trials / 20, seed),
    ["speed"] = () => Speed.Print(seed),
    ["life"] = () => LifeCoverage.Print(trials / 2, seed),
};
foreach (var (name, run) in parts)
{
    if (part == "all" || part == name)
    {
        run();
        Console.WriteLine();
    }
}

return parts.ContainsKey(part) || part == "all" ? 0 : 2;
