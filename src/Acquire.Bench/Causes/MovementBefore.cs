using Acquire.Analysis.Control;
using Acquire.Bench.Books;

namespace Acquire.Bench.Causes;

/// <summary>How the process came to where a strip found it.</summary>
internal static class MovementBefore
{
    /// <summary>
    /// A jump longer ago than so many strips says nothing of a cause at work now; what goes little by little may have begun at any time.
    /// </summary>
    private const int Strips = 12;

    /// <summary>The largest movement away from aim that still stands at the strip; null when there is none.</summary>
    /// <param name="points">The strips up to it and with it, in the order of time.</param>
    /// <param name="strip">The strip.</param>
    /// <param name="sheet">The sheet of the points; null when there are none.</param>
    public static DriftFinding? Of(ImmutableArray<StripPoint> points, StripRecord strip, ProcessSheet? sheet)
    {
        if (sheet is null || points.FirstOrDefault(p => p.StripId == strip.Id) is not { } point)
        {
            return null;
        }

        ImmutableArray<StripPoint> until = [.. points.Take(points.IndexOf(point) + 1)];
        var recent = until.TakeLast(Strips).Select(p => p.StripId).ToHashSet();
        return DriftStudy.Of(HistorySeries.Of(until), key => sheet.Find(key)?.Name ?? key).Findings
            .Where(f => f.Shape switch
            {
                DriftShape.Gradual => f.IsLatest,
                DriftShape.Jump => f.IsLatest && recent.Contains(f.BeganAtStrip),
                DriftShape.SingleStrip => f.BeganAtStrip == strip.Id,
                _ => false,
            })
            .Where(f => IsAway(f, point))
            .OrderByDescending(f => Math.Abs(f.Step))
            .FirstOrDefault();
    }

    /// <summary>
    /// The last strip of the same lot in the same bottle before a movement that came at once: where the process stood, so that what moved
    /// it is not asked to explain how the solution had aged before. Null when there is none.
    /// </summary>
    /// <param name="finding">The movement; null for none.</param>
    /// <param name="points">The strips in the order of time.</param>
    /// <param name="strip">The strip.</param>
    public static StripPoint? StoodAt(DriftFinding? finding, ImmutableArray<StripPoint> points, StripRecord strip) =>
        finding is { Shape: DriftShape.Jump or DriftShape.SingleStrip } && strip.Tags.Bottle is not null
            ? points.TakeWhile(p => p.StripId != finding.BeganAtStrip && p.StripId != strip.Id)
                .LastOrDefault(p => p.Lot == strip.LotCode && BookNames.Same(p.Bottle ?? "", strip.Tags.Bottle))
            : null;

    /// <summary>Whether the strip lies on the side that the movement went to; one back to aim needs no cause.</summary>
    private static bool IsAway(DriftFinding finding, StripPoint strip) => strip.Judgement.Results
        .Where(r => r.Parameter.Key == finding.ParameterKey && (finding.Channels.IsEmpty || finding.Channels.Any(c => c == r.Channel))
            && r.Deviation is not null)
        .Select(r => r.Deviation!.Value)
        .DefaultIfEmpty(0)
        .Average() * finding.Step > 0;
}
