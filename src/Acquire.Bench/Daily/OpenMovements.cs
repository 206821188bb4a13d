using Acquire.Analysis.Control;

namespace Acquire.Bench.Daily;

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
            && (f.Shape == DriftShape.Gradual || (f.Shape is DriftShape.Jump or DriftShape.SingleStrip && now - f.Noticed <= JumpIsNews))
            && Stands(f, strips[^1])),
    ];

    private static bool Stands(DriftFinding finding, StripPoint newest) => newest.Judgement.Results
        .Where(r => r.Parameter.Key == finding.ParameterKey && (finding.Channels.IsEmpty || finding.Channels.Any(c => c == r.Channel))
            && r.Deviation is not null)
        .Select(r => r.Deviation!.Value)
        .DefaultIfEmpty(finding.Step)
        .Average() / finding.Step >= StillStands;
}
