using TruthBenchmark.Claims;

namespace TruthBenchmark;

/// <summary>The claims as they are printed: a line each.</summary>
internal static class Table
{
    public static void Heading(string group, Run run)
    {
        Console.WriteLine(FormattableString.Invariant($"{group}, seed {run.Seed}{(run.Short ? ", short" : "")}"));
        Row("id", "claim", "aim", "figure", "s.e.", "verdict");
    }

    public static void Row(Claim claim) =>
        Row(claim.Id, claim.What, claim.Aim.Text, claim.Instead ?? Number(claim.Figure), Number(claim.Error), Word(claim));

    public static void Cost(TimeSpan processor)
    {
        Console.WriteLine(FormattableString.Invariant($"  {processor.TotalSeconds:0.0} s of processor"));
        Console.WriteLine();
    }

    /// <summary>What was missed, once more at the end, where a reader looks.</summary>
    public static void End(IReadOnlyCollection<Claim> claims)
    {
        var missed = claims.Where(c => c.Standing == Standing.Missed).ToList();
        var asked = claims.Count(c => c.Standing != Standing.Shown);
        if (missed.Count == 0)
        {
            Console.WriteLine($"All {asked} aims are met, or missed by less than two standard errors.");
            return;
        }

        Console.WriteLine($"{missed.Count} of {asked} aims are missed by more than two standard errors:");
        foreach (var claim in missed)
        {
            Row(claim);
            if (KnownLimits.Why(claim) is { } why)
            {
                Console.WriteLine($"      known: {why}.");
            }
        }
    }

    private static void Row(string id, string what, string aim, string figure, string error, string verdict) =>
        Console.WriteLine($"  {id,-28}{what,-112}{aim,13}{figure,17}{error,9}  {verdict}".TrimEnd());

    private static string Number(double number) => !double.IsFinite(number) ? "–"
        : number.ToString(Math.Abs(number) >= 100 ? "0.0" : "0.000", CultureInfo.InvariantCulture);

    private static string Word(Claim claim) => claim.Standing switch
    {
        Standing.Met => "met",
        Standing.WithinError => "within error",
        Standing.Missed => "MISSED",
        _ => "",
    };
}
