using TruthBenchmark.Claims;

namespace TruthBenchmark;

/// <summary>The claims as they are printed: a line each.</summary>
internal static class Table
{
    public static void Heading(string group, Run run)
    {
        Console.WriteLine(FormattableString.Invariant($"{group}, seed {run.Seed}{(run.Short ? ", short" : "")}"));
        Console.WriteLine($"  {"id",-28}{"claim",-98}{"aim",12}{"figure",10}{"s.e.",9}  verdict");
    }

    public static void Row(Claim claim) => Console.WriteLine(
        $"  {claim.Id,-28}{claim.What,-98}{claim.Aim.Text,12}{claim.Instead ?? Number(claim.Figure),10}{Number(claim.Error),9}  "
        + $"{Word(claim)}");

    public static void Cost(TimeSpan processor)
    {
        Console.WriteLine(FormattableString.Invariant($"  {processor.TotalSeconds:0.0} s of processor"));
        Console.WriteLine();
    }

    private static string Number(double number) => double.IsNaN(number) ? "–"
        : number.ToString(Math.Abs(number) >= 100 ? "0.0" : "0.000", CultureInfo.InvariantCulture);

    private static string Word(Claim claim) => claim.Standing switch
    {
        Standing.Met => "met",
        Standing.WithinError => "within error",
        Standing.Missed => "MISSED",
        _ => "",
    };
}
