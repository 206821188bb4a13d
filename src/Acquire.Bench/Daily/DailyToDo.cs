using Acquire.Analysis.Judgement;

namespace Acquire.Bench.Daily;

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
            $"{l.Name}: read the newest strip again, then run a second one; no film that matters before. What may be behind it: acquire "
            + $"report --strip {IdOf(l)}"),
        .. lines.IsEmpty && facts.Lots.IsEmpty ? ["Enter the lot of your strips with its aims, then read a first strip: acquire lot add "
            + "CODE, acquire lot reference CODE, acquire read"] : ImmutableArray<string>.Empty,
        .. facts.Unfinished.Select(u => $"Finish the {u.What}, or end it: acquire resume {u.Id}"),
        .. facts.Instruments.Where(i => i.Check.Lacking is not null).Select(
            i => $"Check the densitometer: {i.Check.Lacking}. acquire check --plaque PLAQUE --port PORT --profile {i.Profile}"),
        .. lines.Where(l => l.Facts.Answer?.Judged == 0).Select(l =>
            $"{l.Name}: give the lot its aims and the process its limits, or no strip can tell anything: acquire lot show "
            + $"{l.Facts.Newest!.Lot}, acquire process show"),
        .. lines.Where(l => l.Says == StripSays.LookFirst && !l.NeedsStrip && l.Facts.Answer?.Judged > 0).Select(l =>
            $"{l.Name}: read the newest strip again and run a second one. What may be behind it: acquire report --strip {IdOf(l)}"),
        .. lines.Where(l => l.Says == StripSays.LookFirst && l.NeedsStrip).Select(l => $"{l.Name}: run a control strip before film."),
        .. facts.Lots.Where(l => l.DaysToExpiry < 0).Select(
            l => $"Lot {l.Code} is past its expiry: what its strips show may be theirs. Go on to a fresh lot."),
        .. facts.Bottles.Where(b => b.Standing?.InsideProbability < Doubtful).Select(b =>
            string.Create(CultureInfo.InvariantCulture, $"Bottle {b.State.Bottle.Name}: run a strip in it; by the strips "
                + $"{b.Standing!.Worst!.Name} is inside its action limit with {b.Standing.InsideProbability:0 %} only.")),
        .. lines.Where(l => l.Says != StripSays.Stop)
            .SelectMany(l => l.Facts.Moving.Select(f => $"{l.Name}: {f.Sentence} Look for the cause.")),
        .. facts.Lots.Where(l => l.Left < FewStrips).Select(l =>
            $"{Numbers.Count(l.Left!.Value, "strip")} of lot {l.Code} left: get the next lot, and run the crossover while there are some."),
        .. facts.Lots.Where(l => l.DaysToExpiry is >= 0 and <= ExpirySoonDays).Select(
            l => $"Lot {l.Code} expires in {Numbers.Count(l.DaysToExpiry!.Value, "day")}."),
        .. facts.Instruments.Where(i => i.Check.InForce is { } check && check.DueAt - facts.Now <= CheckSoon).Select(i =>
            $"The next calibration check is due on {Numbers.Day(i.Check.InForce!.DueAt)} ({i.Profile})."),
        .. facts.Instruments.Where(i => !i.HasRepeatability).Select(i =>
            $"Find how well the densitometer repeats ({i.Profile}), or uncertainties rest on each strip alone: acquire repeatability "
            + $"--port PORT --profile {i.Profile}"),
    ];

    private static string IdOf(LineToday line) => StripId.ShortForm(line.Facts.Newest!.StripId);
}
