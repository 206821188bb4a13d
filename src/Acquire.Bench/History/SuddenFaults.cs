using Acquire.Analysis.Control;

namespace Acquire.Bench.History;

/// <summary>
/// Strips past a control limit with a second strip run beside them: something sudden had happened to the strip or to the bath, and somebody
/// looked into it. They tell nothing of how a solution ages.
/// </summary>
public static class SuddenFaults
{
    /// <summary>Ids of such strips: the first ones, and the second ones that were past a limit too.</summary>
    public static ImmutableHashSet<Guid> Of(StripHistory history)
    {
        ArgumentNullException.ThrowIfNull(history);
        var looked = history.Records.Select(r => r.Tags.Confirms).OfType<Guid>().ToHashSet();
        return
        [
            .. history.Records.Zip(history.Strips)
                .Where(p => p.Second.Judgement.Overall == Zone.Out && (p.First.Tags.Confirms is not null || looked.Contains(p.First.Id)))
                .Select(p => p.First.Id),
        ];
    }

    /// <summary>The strips that tell how a solution ages.</summary>
    public static ImmutableArray<StripPoint> Ageing(StripHistory history)
    {
        var sudden = Of(history);
        return [.. history.Strips.Where(s => !sudden.Contains(s.StripId))];
    }
}
