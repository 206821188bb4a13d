using Acquire.Analysis.Control;

namespace TruthBenchmark.Product;

/// <summary>How a movement is told.</summary>
internal enum Way
{
    AtOnce,
    LittleByLittle,
    OneStrip,
}

/// <summary>A movement that is told; strips by their number in the history.</summary>
internal sealed record Moved(string Key, Way Way, int Began, int Earliest, int Latest, int Noticed);

/// <summary>What is told of a history: notices that only ask to watch the next strip are no movement told.</summary>
/// <param name="Resembles">Whether strips are said to resemble the one before.</param>
internal sealed record DriftSaid(ImmutableArray<Moved> Moved, bool Resembles)
{
    public static DriftSaid Of(Desk desk, int? first = null)
    {
        var study = DriftStudy.Of(HistorySeries.Of(desk.Points(first)), key => key);
        return new DriftSaid(
            [.. study.Findings.Where(f => !f.IsNotice).Select(f => new Moved(
                f.ParameterKey,
                f.Shape switch { DriftShape.Gradual => Way.LittleByLittle, DriftShape.SingleStrip => Way.OneStrip, _ => Way.AtOnce },
                desk.Number(f.Began),
                desk.Number(f.Earliest),
                desk.Number(f.Latest),
                desk.Number(f.Noticed)))],
            study.Notes.Any(n => n.Contains("autocorrelation", StringComparison.Ordinal)));
    }
}
