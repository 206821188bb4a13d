using Acquire.Bench.History;

namespace Acquire.Bench.Reports;

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
