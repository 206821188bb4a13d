using Acquire.Analysis.Control;
using Acquire.Analysis.Gauge;
using Acquire.Analysis.Judgement;
using Acquire.Bench.Books;
using Acquire.Bench.History;

namespace Acquire.Bench.Daily;

/// <summary>Something after which a strip is due before film: a mix that came into use, a repair, a new setting.</summary>
/// <param name="What">What it was, in words that a sentence can begin with.</param>
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
    string Process,
    StripPoint? Newest,
    StripAnswer? Answer,
    ImmutableArray<ProcessChange> Changes,
    ImmutableArray<DriftFinding> Moving);

/// <summary>Whether a line may process film today, by its strips.</summary>
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

    /// <summary>What the newest strip's verdicts rest on that was assumed.</summary>
    public Assumed RestsOnAssumption => Facts.Newest?.Judgement.RestsOnAssumption ?? Assumed.None;

    public static LineToday Of(LineFacts facts, DateTimeOffset now)
    {
        if (facts is not { Newest: { } newest, Answer: { } answer })
        {
            return new LineToday(facts, StripSays.LookFirst, true, "no strip with aims was read yet.", null);
        }

        var age = now - newest.At;
        if (answer.Says == StripSays.Stop)
        {
            return new LineToday(facts, answer.Says, true, $"{TodayWords.Results(answer.Because, answer)} past the control limit.", age);
        }

        // Two reasons for a strip: what the newest one says, and that it tells nothing of today. Both are said.
        var due = WhyDue(facts, newest, now);
        var seen = answer switch
        {
            { Judged: 0 } => "nothing on the newest strip has both an aim and a limit",
            { Says: StripSays.LookFirst } => TodayWords.Open(answer),
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
        facts.Changes.Where(c => c.At > newest.At && c.At <= now)
            .MaxBy(c => c.At) is { } change ? $"no strip since {change.What} ({Numbers.Day(change.At)})"
        : now - newest.At > StripHolds ? $"the newest strip is {EntryText.Age(now - newest.At)} old"
        : null;
}

/// <summary>Changes of a line after which a strip is due: training manuals run one after mixing, and after any repair or change.</summary>
internal static class ProcessChanges
{
    /// <summary>Finds them in the books.</summary>
    /// <param name="processKey">The line's process.</param>
    /// <param name="line">The line; null for one that the books do not know: then what concerns one line only is left out.</param>
    /// <param name="zone">The local offset, in which days are told.</param>
    public static ImmutableArray<ProcessChange> Of(
        Ledger books, string processKey, ProcessLine? line, DateTimeOffset now, TimeZoneInfo zone) =>
    [
        .. Mixes(books, processKey, line, now)
            .Concat(books.Events.Where(e => e.LineId is null || e.LineId == line?.Id).Select(e => Event(e)).OfType<ProcessChange>())
            .Concat(books.Standing.OfType<LineMethod>().Where(m => m.LineId == line?.Id)
                .Select(m => new ProcessChange("the method was changed", m.HappenedAt)))
            .Where(c => c.At <= now)
            .Select(c => c with { At = TimeZoneInfo.ConvertTime(c.At, zone) }),
    ];

    private static IEnumerable<ProcessChange> Mixes(Ledger books, string processKey, ProcessLine? line, DateTimeOffset now)
    {
        var inUse = books.BottlesInUse(now).Select(b => books.At(b, now))
            .Where(s => string.Equals(s.Solution.ProcessKey, processKey, StringComparison.OrdinalIgnoreCase)
                && s.Solution.Kind != SolutionKind.FinalRinse && Concerns(books, s.Bottle, line));
        foreach (var kind in inUse.GroupBy(s => s.Solution.Kind))
        {
            // A closed bottle waits in reserve, unless there is no other.
            var opened = kind.Where(s => s.OpenedAt is not null).ToList();
            foreach (var mix in (opened.Count > 0 ? opened : [.. kind]).GroupBy(s => s.Solution.Id))
            {
                var first = mix.Min(s => s.OpenedAt ?? s.Bottle.HappenedAt);
                yield return new ProcessChange($"{mix.First().Solution.Name} came into use", first);
            }
        }
    }

    /// <summary>A bottle concerns a line unless it was only ever used in others.</summary>
    private static bool Concerns(Ledger books, Bottle bottle, ProcessLine? line)
    {
        var lines = HistoryBooks.LinesOf(books, bottle);
        return lines.Count == 0 || (line is not null && lines.Contains(line.Id));
    }

    private static ProcessChange? Event(BookEvent entry) => entry.Kind switch
    {
        BookEventKind.NewMix => new ProcessChange($"a new mix: {entry.Text}", entry.HappenedAt),
        BookEventKind.Repair => new ProcessChange($"a repair: {entry.Text}", entry.HappenedAt),
        BookEventKind.Temperature => new ProcessChange($"a change of temperature: {entry.Text}", entry.HappenedAt),
        _ => null,
    };
}

/// <summary>Movements of a line that matter today.</summary>
internal static class OpenMovements
{
    /// <summary>A jump is news for so long; afterwards it is the level the line runs at. Common practice, no source.</summary>
    public static readonly TimeSpan JumpIsNews = TimeSpan.FromDays(30);

    /// <summary>
    /// When less of a step than this stands on the newest strip, it went back, or was itself the way back to aim. Judgement, no source.
    /// </summary>
    private const double StillStands = 0.5;

    /// <summary>
    /// What moves little by little and has not stopped, and what jumped lately, where it still stands; notices stay out, as chance makes
    /// them.
    /// </summary>
    public static ImmutableArray<DriftFinding> Of(IReadOnlyList<StripPoint> strips, Func<string, string> nameOf, DateTimeOffset now) =>
    [
        .. DriftStudy.Of(HistorySeries.Of(strips), nameOf).Findings.Where(f => f.IsLatest
            && (f.Shape == DriftShape.Gradual
                || (f.Shape is DriftShape.Jump or DriftShape.Open or DriftShape.SingleStrip && now - f.Noticed <= JumpIsNews))
            && Stands(f, strips[^1])),
    ];

    private static bool Stands(DriftFinding finding, StripPoint newest) => newest.Judgement.Results
        .Where(r => r.Parameter.Key == finding.ParameterKey && (finding.Channels.IsEmpty || finding.Channels.Any(c => c == r.Channel))
            && r.Deviation is not null)
        .Select(r => r.Deviation!.Value)
        .DefaultIfEmpty(finding.Step)
        .Average() / finding.Step >= StillStands;
}
