using Acquire.Analysis.Control;
using Acquire.Analysis.Judgement;
using Acquire.Bench.Books;

namespace Acquire.Bench.Daily;

/// <summary>Something after which a strip is due before film: a mix that came into use, a repair, a new setting.</summary>
/// <param name="What">What it was, in words that a sentence can begin with.</param>
/// <param name="At">When.</param>
public sealed record ProcessChange(string What, DateTimeOffset At);

/// <summary>What the store knows of one process line.</summary>
/// <param name="Name">The line; null for strips that name none.</param>
/// <param name="Process">The trade's name of its process.</param>
/// <param name="Newest">Its newest strip that has aims; null when there is none.</param>
/// <param name="Answer">What that strip says; null without one.</param>
/// <param name="Changes">Changes of the process, in any order.</param>
/// <param name="Moving">Movements that nothing has ended yet.</param>
public sealed record LineFacts(
    string? Name,
    string Process, StripPoint? Newest, StripAnswer? Answer, ImmutableArray<ProcessChange> Changes, ImmutableArray<DriftFinding> Moving);

/// <summary>Whether a line may process film today, by its strips.</summary>
/// <param name="Facts">What it rests on.</param>
/// <param name="Says">What the newest strip says, and its age.</param>
/// <param name="NeedsStrip">Whether a strip is due before film, whatever the newest one says.</param>
/// <param name="Why">Why, in a sentence.</param>
/// <param name="StripAge">How old the newest strip is; null without one.</param>
public sealed record LineToday(LineFacts Facts, StripSays Says, bool NeedsStrip, string Why, TimeSpan? StripAge)
{
    /// <summary>
    /// After so long a strip tells nothing of today any more. Common practice, no source; labs run one before each day's work.
    /// </summary>
    public static readonly TimeSpan StripHolds = TimeSpan.FromDays(14);

    /// <summary>What it is called in a sentence.</summary>
    public string Name => Facts.Name ?? $"{Facts.Process} without a line";

    /// <summary>Decides.</summary>
    public static LineToday Of(LineFacts facts, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(facts);
        if (facts is not { Newest: { } newest, Answer: { } answer })
        {
            return new LineToday(facts, StripSays.LookFirst, true, "no strip with aims was read yet.", null);
        }

        var age = now - newest.At;
        if (answer.Says == StripSays.Stop)
        {
            return new LineToday(facts, answer.Says, true, $"{TodayWords.Results(answer.Because)} past the control limit.", age);
        }

        var due = WhyDue(facts, newest, now);
        var seen = answer switch
        {
            { Judged: 0 } => "nothing on the newest strip has both an aim and a limit",
            { Says: StripSays.LookFirst } => TodayWords.Open(answer.Because),
            _ => null,
        };
        var why = (seen, due) switch
        {
            (null, null) => TodayWords.Inside(answer),
            (null, { } d) => d,
            ({ } s, null) => s,
            var (s, d) => $"{s}; {d}",
        };
        return new LineToday(
            facts, seen is null && due is null ? StripSays.InControl : StripSays.LookFirst, due is not null, why + ".", age);
    }

    private static string? WhyDue(LineFacts facts, StripPoint newest, DateTimeOffset now) =>
        facts.Changes.Where(c => c.At > newest.At && c.At <= now).MaxBy(
            c => c.At) is { } change ? $"no strip since {change.What} ({Numbers.Day(change.At)})"
        : now - newest.At > StripHolds ? $"the newest strip is {EntryText.Age(now - newest.At)} old"
        : null;
}
