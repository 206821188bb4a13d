using System.Collections.Immutable;
using Acquire.Analysis.Today;

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
        ImmutableArray<LineToday> lines = [.. facts.Lines.Select(l => LineToday.Of(l, facts.Now)).OrderByDescending(l => l.Says).ThenBy(l => l.Name, StringComparer.OrdinalIgnoreCase)];
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
                2 => $"Not before a second strip: {Names(only)} past a control limit.",
                1 => "Yes, after a control strip.",
                _ => lines.Length == 1 ? "Yes, as far as the newest strip tells." : "Yes, as far as the newest strips tell.",
            };
        }

        return string.Join("; ", groups.Select(g => g.Key switch
        {
            2 => $"Not in {Names(g)} before a second strip",
            1 => $"{(g == groups[0] ? "Yes" : "yes")}, after a control strip, in {Names(g)}",
            _ => $"yes in {Names(g)}, as far as {(g.Count() == 1 ? "its newest strip tells" : "their newest strips tell")}",
        })) + ".";
    }

    private static int KindOf(LineToday line) => line.Says switch
    {
        StripSays.Stop => 2,
        StripSays.LookFirst => 1,
        _ => 0,
    };

    private static string Names(IEnumerable<LineToday> lines) => string.Join(" and ", lines.Select(l => l.Name));
}
