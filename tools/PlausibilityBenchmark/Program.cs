using PlausibilityBenchmark;

// Usage: PlausibilityBenchmark [--strips N] [--seed S] [--only gross|subtle|false]
var strips = int.Parse(Option("--strips") ?? "500", CultureInfo.InvariantCulture);
var seed = int.Parse(Option("--seed") ?? "1", CultureInfo.InvariantCulture);
var only = Option("--only");

Console.WriteLine(FormattableString.Invariant($"{strips} strips in every row, seed {seed}, five patches read three times each"));
if (only is null or "gross")
{
    Tables.Gross(strips, seed);
}

if (only is null or "false")
{
    Tables.FalseQuestions(strips, seed);
}

if (only is null or "subtle")
{
    Tables.Subtle(strips, seed);
}

return 0;

string? Option(string name) => Array.IndexOf(args, name) is var at and >= 0 && at + 1 < args.Length ? args[at + 1] : null;
