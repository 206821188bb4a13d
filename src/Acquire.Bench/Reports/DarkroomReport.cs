using Acquire.Analysis.Causes;
using Acquire.Analysis.Charts;
using Acquire.Analysis.Control;
using Acquire.Analysis.Gauge;
using Acquire.Analysis.Judgement;
using Acquire.Analysis.Life;
using Acquire.Bench.History;
using Acquire.Bench.Trust;

namespace Acquire.Bench.Reports;

/// <summary>Everything that a report of the darkroom tells, before it is put into words.</summary>
public sealed record DarkroomReport
{
    /// <summary>What it is of, for its heading.</summary>
    public required string Title { get; init; }

    /// <summary>When it was made, in the local offset.</summary>
    public required DateTimeOffset MadeAt { get; init; }

    /// <summary>The strips, one at least, with the books.</summary>
    public required StripHistory History { get; init; }

    /// <summary>The record of the strip that the state rests on: the newest, or the one asked for.</summary>
    public required StripRecord Record { get; init; }

    /// <summary>The same strip, judged.</summary>
    public required StripPoint Strip { get; init; }

    public required StripAnswer Answer { get; init; }

    /// <summary>Whether one strip was asked for; the others then only stand beside it.</summary>
    public bool IsOfOneStrip { get; init; }

    /// <summary>What moved, by line, oldest first.</summary>
    public required ImmutableArray<LineFinding> Findings { get; init; }

    /// <summary>Every parameter against date, with what moved.</summary>
    public required ChartModel Chart { get; init; }

    /// <summary>What makes findings less sure.</summary>
    public required ImmutableArray<string> FindingNotes { get; init; }

    /// <summary>What may be behind the last strip that is not in control; null when every strip is.</summary>
    public CausesOfStrip? Causes { get; init; }

    /// <summary>How long the developer lasts, by these strips.</summary>
    public required LifeStudy Life { get; init; }

    /// <summary>Where the bottles in use stand.</summary>
    public required ImmutableArray<(BottleState State, BottleStanding Standing)> Standings { get; init; }

    /// <summary>Every bottle in use, of any solution.</summary>
    public required ImmutableArray<BottleState> Bottles { get; init; }

    /// <summary>The instruments that read the strips.</summary>
    public required ImmutableArray<InstrumentTrust> Instruments { get; init; }

    /// <summary>The reference strips, read again.</summary>
    public required ImmutableArray<ReferenceTrust> References { get; init; }
}

/// <summary>A movement in a line.</summary>
/// <param name="Line">The line; null where none was told.</param>
public sealed record LineFinding(string? Line, DriftFinding Finding);

/// <summary>What may be behind a strip.</summary>
public sealed record CausesOfStrip(StripPoint Strip, CauseStudy Study);

/// <summary>How far an instrument can be trusted.</summary>
/// <param name="Check">Whether a calibration check is in force.</param>
/// <param name="Last">The last check of it; null when there is none.</param>
/// <param name="Repeatability">The last repeatability test; null when there is none.</param>
public sealed record InstrumentTrust(
    string Name, CheckStanding Check, JudgedCheck? Last, (DateTimeOffset At, RepeatabilityReport Report)? Repeatability);

/// <summary>The reference strip of a lot as a check of the instrument.</summary>
/// <param name="ReadAgain">When it was read again last; null when never.</param>
/// <param name="Review">What that tells; null when nothing.</param>
public sealed record ReferenceTrust(string Lot, DateTimeOffset? ReadAgain, RecheckReview? Review);

/// <summary>What a report is asked to be of.</summary>
/// <param name="Filter">Period, lot, line, bottle, process.</param>
/// <param name="Strip">
/// One strip, by its id or a part of it; null for the newest. Strips of its line that ran before stand beside it.
/// </param>
public sealed record ReportAsked(HistoryFilter Filter, string? Strip = null)
{
    /// <summary>How many strips stand in a report of one strip, itself included.</summary>
    public const int StripsBeside = 30;
}

/// <summary>The papers that a report is laid out for.</summary>
public static class ReportPaper
{
    /// <summary>The name of a paper as style sheets have it; null for what the printer has.</summary>
    /// <exception cref="BenchException">It is another one.</exception>
    public static string? Parse(string? text) => text?.ToUpperInvariant() switch
    {
        null => null,
        "A4" => "A4",
        "LETTER" => "letter",
        _ => throw new BenchException($"'{text}' is no paper that is known; expected a4 or letter."),
    };
}
