using Acquire.Instruments.Simulation;

namespace PlausibilityBenchmark;

/// <summary>Prints the tables.</summary>
internal static class Tables
{
    private static readonly double[] Repeatabilities = [0.003, 0.006, 0.010, 0.015];
    private static readonly double[] Thresholds = [0, 1, 2, 3, 4, 5, 7, 10];
    private const double Middle = 0.006;

    public static void Gross(int strips, int seed)
    {
        Heading(
            "Gross mistakes: caught % / rightly named %, by repeatability",
            Repeatabilities.Select(s => Text($"{s:0.000}")),
            "named otherwise");
        foreach (var mistake in GrossMistakes.All)
        {
            var results = Repeatabilities.Select(s => Row.Of(mistake, s, strips, seed)).ToList();
            Line(
                mistake.Name,
                results.Select(r => Text($"{r.Caught():F1}/{r.Named(mistake):F1}")),
                results.SelectMany(r => r).Kinds(mistake.RightNames));
        }
    }

    public static void FalseQuestions(int strips, int seed)
    {
        Heading("False questions, % of strips, by repeatability", Repeatabilities.Select(s => Text($"{s:0.000}")), "asked");
        Print("in order", s => Row.Clean(null, s, strips, seed));
        foreach (var story in FaultStories.All)
        {
            Print(story.Name, s => Row.Clean(story, s, strips, seed));
        }

        foreach (var (name, make) in RuinedFilms.All)
        {
            Print(name, s => Row.Ruined(make, s, strips, seed));
        }

        void Print(string name, Func<double, List<TrialResult>> row)
        {
            var results = Repeatabilities.Select(row).ToList();
            Line(name, results.Select(r => Text($"{r.Caught():F2}")), results.SelectMany(r => r).Kinds([]));
        }
    }

    public static void Subtle(int strips, int seed)
    {
        Heading(
            Text($"Subtle mistakes, repeatability {Middle}: caught % / rightly named %, by threshold of evidence"),
            Thresholds.Select(t => Text($"{t}")), "named otherwise");
        foreach (var mistake in SubtleMistakes.All)
        {
            var results = Row.Of(mistake, Middle, strips, seed);
            Line(
                mistake.Name,
                Thresholds.Select(
                    t => Text($"{results.Share(r => IsAsked(r, t)):F1}/{results.Share(r => IsAsked(r, t) && Is(r, mistake)):F1}")),
                results.Kinds(mistake.RightNames));
        }

        var clean = Row.Clean(null, Middle, strips, seed);
        Line("false, in order", Thresholds.Select(t => Text($"{clean.Share(r => IsAsked(r, t)):F2}")), "");
        var faulty = FaultStories.All.Select(f => (f.Name, Results: Row.Clean(f, Middle, strips / 4, seed))).ToList();
        var all = faulty.SelectMany(f => f.Results).ToList();
        Line("false, all faults", Thresholds.Select(t => Text($"{all.Share(r => IsAsked(r, t)):F2}")), "");
        var worst = faulty.MaxBy(f => f.Results.Share(r => IsAsked(r, 2)));
        Line($"false, {worst.Name}", Thresholds.Select(t => Text($"{worst.Results.Share(r => IsAsked(r, t)):F2}")), "");
    }

    // A gross question that came before counts at every threshold: it was asked.
    private static bool IsAsked(TrialResult result, double threshold) => result.Leading is null || result.Leading.Evidence >= threshold;

    private static bool Is(TrialResult result, Mistake mistake) => mistake.RightNames.Contains((result.Leading ?? result.Asked)!.Kind);

    private static void Heading(string title, IEnumerable<string> columns, string last) =>
        Console.WriteLine($"\n{title}\n{Cells("", columns)}  {last}");

    private static void Line(string name, IEnumerable<string> cells, string last) =>
        Console.WriteLine($"{Cells(name, cells)}  {last}".TrimEnd());

    private static string Cells(string name, IEnumerable<string> cells) =>
        name.PadRight(34) + string.Concat(cells.Select(c => c.PadLeft(13)));

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
