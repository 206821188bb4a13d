using Acquire.Analysis.Judgement;

namespace Acquire.Bench.Daily;

/// <summary>May I process film today? What the strips say, and what to do first.</summary>
/// <param name="Lines">Every line, those that stop first.</param>
/// <param name="Answer">The answer in a sentence. It is about densities and never says that a solution is safe.</param>
/// <param name="ToDo">What to do, the most important first.</param>
public sealed record DailyBoard(DailyFacts Facts, ImmutableArray<LineToday> Lines, string Answer, ImmutableArray<string> ToDo)
{
    /// <summary>Whether the answer is to stop: a line is past a control limit.</summary>
    public bool Stops => Lines.Any(l => l.Says == StripSays.Stop);

    public static DailyBoard Of(DailyFacts facts)
    {
        ImmutableArray<LineToday> lines = [.. facts.Lines.Select(l => LineToday.Of(l, facts.Now)).OrderByDescending(l => l.Says)
            .ThenBy(l => l.Name, StringComparer.OrdinalIgnoreCase)];
        return new DailyBoard(facts, lines, AnswerOf(lines), DailyToDo.Of(facts, lines));
    }

    private static string AnswerOf(ImmutableArray<LineToday> lines)
    {
        if (lines.IsEmpty)
        {
            return "Not before a control strip: there is none yet, so nothing is known of the process.";
        }

        // One sentence over all lines, the worst first: who reads no further has read what matters.
        var groups = lines.GroupBy(KindOf).OrderByDescending(g => g.Key).ToList();
        if (groups is [var only])
        {
            return only.Key switch
            {
                Kind.Stop => $"Not before a second strip: {Names(only)} past a control limit{Unsure(only)}.",
                Kind.Unknown => $"Not known: nothing on the newest strip of {Names(only)} has both an aim and a limit.",
                Kind.Strip => "Yes, after a control strip.",
                _ => lines.Length == 1 ? "Yes, as far as the newest strip tells." : "Yes, as far as the newest strips tell.",
            };
        }

        var all = string.Join("; ", groups.Select(g => g.Key switch
        {
            Kind.Stop => $"not in {Names(g)} before a second strip",
            Kind.Unknown => $"not known in {Names(g)}",
            Kind.Strip => $"yes, after a control strip, in {Names(g)}",
            _ => $"yes in {Names(g)}, as far as {(g.Count() == 1 ? "its newest strip tells" : "their newest strips tell")}",
        }));
        return char.ToUpperInvariant(all[0]) + all[1..] + ".";
    }

    /// <summary>A stop by the plain comparison alone is no claim that the process is out.</summary>
    private static string Unsure(IEnumerable<LineToday> lines) =>
        lines.All(l => l.Facts.Answer is { } answer && answer.Because.Any(answer.IsUnsure) && answer.SurelyOut.IsEmpty)
            ? ", though not surely" : "";

    private static Kind KindOf(LineToday line) => line switch
    {
        { Says: StripSays.Stop } => Kind.Stop,
        { Facts.Answer.Judged: 0 } => Kind.Unknown,
        { Says: StripSays.LookFirst } => Kind.Strip,
        _ => Kind.Yes,
    };

    private static string Names(IEnumerable<LineToday> lines) => string.Join(" and ", lines.Select(l => l.Name));

    private enum Kind
    {
        Yes,
        Strip,
        Unknown,
        Stop,
    }
}

/// <summary>
/// What to do today, in order: what stops, then the instrument, as nothing can be said without it, then strips that are due, then what
/// can wait.
/// </summary>
internal static class DailyToDo
{
    /// <summary>Fewer strips than this are few: a crossover to the next lot takes three at least. Common practice, no source.</summary>
    public const int FewStrips = 6;

    /// <summary>Common practice, no source.</summary>
    public const int ExpirySoonDays = 30;

    /// <summary>Common practice, no source.</summary>
    public static readonly TimeSpan CheckSoon = TimeSpan.FromDays(2);

    private const double Doubtful = 0.95;

    public static ImmutableArray<string> Of(DailyFacts facts, ImmutableArray<LineToday> lines) =>
    [
        .. lines.Where(l => l.Says == StripSays.Stop).Select(l =>
            $"{l.Name}: read the newest strip again, then run a second one; no film that "
            + $"matters before. What may be behind it: acquire report --strip {IdOf(l)}"),
        .. lines.IsEmpty && facts.Lots.IsEmpty ? ["Enter the lot of your strips with its aims, then read a first strip: acquire lot add "
            + "CODE, acquire lot reference CODE, acquire read"] : ImmutableArray<string>.Empty,
        .. facts.Unfinished.Select(u => $"Finish the {u.What}, or end it: acquire resume {u.Id}"),
        .. facts.Instruments.Where(i => i.Check.Lacking is not null)
            .Select(i => $"Check the densitometer: {i.Check.Lacking}. acquire check --plaque PLAQUE --port PORT --profile {i.Profile}"),
        .. lines.Where(l => l.Facts.Answer?.Judged == 0).Select(l =>
            $"{l.Name}: give the lot its aims and the process its limits, or no strip can tell anything: acquire lot show "
            + $"{l.Facts.Newest!.Lot}, acquire process show"),
        .. lines.Where(l => l.Says == StripSays.LookFirst && !l.NeedsStrip && l.Facts.Answer?.Judged > 0).Select(l =>
            $"{l.Name}: read the newest strip again and run a second one. What may be behind it: acquire report --strip {IdOf(l)}"),
        .. lines.Where(l => l.Says == StripSays.LookFirst && l.NeedsStrip).Select(l => $"{l.Name}: run a control strip before film."),
        .. facts.Lots.Where(l => l.DaysToExpiry < 0)
            .Select(l => $"Lot {l.Code} is past its expiry: what its strips show may be theirs. Go on to a fresh lot."),
        .. facts.Bottles.Where(b => b.Standing?.InsideProbability < Doubtful).Select(b =>
            string.Create(CultureInfo.InvariantCulture, $"Bottle {b.State.Bottle.Name}: run a strip in it; by the strips "
                + $"{b.Standing!.Worst!.Name} is inside its action limit with {b.Standing.InsideProbability:0 %} only.")),
        .. lines.Where(l => l.Says != StripSays.Stop)
            .SelectMany(l => l.Facts.Moving.Select(f => $"{l.Name}: {f.Sentence} Look for the cause.")),
        .. facts.Lots.Where(l => l.Left < FewStrips).Select(l =>
            $"{Numbers.Count(l.Left!.Value, "strip")} of lot {l.Code} left: get the next lot, and run the crossover while there are some."),
        .. facts.Lots.Where(l => l.DaysToExpiry is >= 0 and <= ExpirySoonDays)
            .Select(l => $"Lot {l.Code} expires in {Numbers.Count(l.DaysToExpiry!.Value, "day")}."),
        .. facts.Instruments.Where(i => i.Check.InForce is { } check && check.DueAt - facts.Now <= CheckSoon).Select(i =>
            $"The next calibration check is due on {Numbers.Day(i.Check.InForce!.DueAt)} ({i.Profile})."),
        .. facts.Instruments.Where(i => !i.HasRepeatability).Select(i =>
            $"Find how well the densitometer repeats ({i.Profile}), or its uncertainties rest on an assumption: acquire repeatability "
            + $"--port PORT --profile {i.Profile}"),
    ];

    private static string IdOf(LineToday line) => StripId.ShortForm(line.Facts.Newest!.StripId);
}
