namespace Acquire.Analysis.Plausibility;

/// <summary>Where a line has stood lately: a tank that runs a little off its aims does so on the next strip too, and that is no mistake of
/// reading.</summary>
/// <param name="Level">Deviation of each cell of the strip from its aim.</param>
/// <param name="Strips">How many strips tell it.</param>
internal sealed record LineLately(double[] Level, int Strips)
{
    /// <summary>Fewer strips tell no level. Common practice, no source.</summary>
    private const int Least = 3;

    /// <summary>What was longer ago than so many strips tells of another bath. Common practice, no source.</summary>
    public const int Most = 6;

    /// <summary>Of the strips that are known of the line; null for too few.</summary>
    public static LineLately? Of(StripKnowledge knowledge, ImmutableArray<ModelCell> cells)
    {
        ImmutableArray<StripRecord> last = [.. knowledge.Lately.TakeLast(Most)];
        return last.Length < Least ? null : new LineLately([.. cells.Select(c => Middle(c, last))], last.Length);
    }

    // The middle one, so that one strip that was ruined, or misread and never asked about, moves nothing.
    private static double Middle(ModelCell cell, ImmutableArray<StripRecord> strips)
    {
        var deviations = strips
            .Select(s => s.Mean(cell.PatchKey, cell.Channel)?.Mean - s.Aim(cell.PatchKey, cell.Channel)?.Value)
            .OfType<double>().Order().ToList();
        return deviations.Count < Least ? 0 : (deviations[(deviations.Count - 1) / 2] + deviations[deviations.Count / 2]) / 2;
    }
}
