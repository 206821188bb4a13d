using Acquire.Analysis.Judgement;

namespace Acquire.Bench.Daily;

/// <summary>May I process film today? What the strips say, and what to do first.</summary>
/// <param name="Facts">What it rests on.</param>
/// <param name="Lines">Every line, those that stop first.</param>
/// <param name="Answer">The answer in a sentence. It is about densities and never says that a solution is safe.</param>
/// <param name="ToDo">What to do, the most important first.</param>
public sealed record DailyBoard(DailyFacts Facts, ImmutableArray<LineToday> Lines, string Answer, ImmutableArray<string> ToDo)
{
    /// <summary>Whether the answer is to stop: a line is past a control limit.</summary>
    public bool Stops => Lines.Any(l => l.Says == StripSays.Stop);

    /// <summary>Decides.</summary>
    public static DailyBoard Of(DailyFacts facts)
    {
        ArgumentNullException.ThrowIfNull(facts);
        ImmutableArray<LineToday> lines = [.. facts.Lines.Select(l => LineToday.Of(l, facts.Now)).OrderByDescending(l => l.Says).ThenBy(
            l => l.Name, StringComparer.OrdinalIgnoreCase)];
        return new DailyBoard(facts, lines, AnswerOf(lines), DailyToDo.Of(facts, lines));
    }

    private static string AnswerOf(ImmutableArray<LineToday> lines)
    {
        if (lines.IsEmpty)
        {
            return "Not before a control strip: there is none yet, so nothing is known of the process.";
        }

        var groups = lines.GroupBy(KindOf).OrderByDescending(g => g.Key).ToList();
        if (groups is [var only])
        {
            return only.Key switch
            {
                Kind.Stop => $"Not before a second strip: {Names(only)} past a control limit.",
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
