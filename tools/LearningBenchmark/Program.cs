using LearningBenchmark;
using LearningBenchmark.Formats;

// Usage: LearningBenchmark [formats] [seed] [--pauses] [--rare] [--show OUTCOME]
// With --pauses nothing but pauses ends the lines, and the captures have times.
// With --rare every format has one of the ways of writing that few instruments have.
var (pauses, rare) = (args.Contains("--pauses"), args.Contains("--rare"));
args = [.. args.Where(a => a is not ("--pauses" or "--rare"))];
var count = args is [var n, ..] ? int.Parse(n, CultureInfo.InvariantCulture) : 1200;
var seed = args is [_, var s, ..] ? int.Parse(s, CultureInfo.InvariantCulture) : 1;
var show = args is [.., "--show", var outcome] ? outcome : nameof(Outcome.Wrong);

var results = Benchmark.Run(count, seed, pauses, rare);
foreach (var result in results.Where(r => r.Outcome.ToString() == show))
{
    Console.WriteLine($"{result.Outcome} ({result.Habit}): {result.Detail}\n    {result.Capture}");
}

var learnable = results.Count(r => r.Outcome != Outcome.DeclinedRightly);
Console.WriteLine(FormattableString.Invariant(
    $"{count} formats, seed {seed}, three readings each{(pauses ? ", lines ended by pauses" : "")}"));
foreach (var kind in Enum.GetValues<Outcome>())
{
    var found = results.Count(r => r.Outcome == kind);
    Console.WriteLine(FormattableString.Invariant($"{kind,-20} {found,6}  {100.0 * found / count,6:F2} %"));
}

foreach (var habit in results.Where(r => r.Habit != RareHabit.None).GroupBy(r => r.Habit))
{
    var shares = Enum.GetValues<Outcome>().Select(k => FormattableString.Invariant($"{k} {habit.Count(r => r.Outcome == k)}"));
    Console.WriteLine($"{habit.Key,-20} {string.Join(", ", shares)}");
}

Console.WriteLine(FormattableString.Invariant(
    $"exact, of {learnable} that can be learned: {100.0 * results.Count(r => r.Outcome == Outcome.Exact) / learnable:F2} %"));
return results.Any(r => r.Outcome == Outcome.Wrong) ? 1 : 0;
