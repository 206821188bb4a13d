using Acquire.Analysis.Judgement;
using Acquire.Formats.Strips;

namespace Acquire.Bench.Strips;

/// <summary>Joins a record with its judgement for export: storage knows nothing of analysis.</summary>
public static class StripExports
{
    /// <summary>The strip as it is exported.</summary>
    public static StripExport Of(StripRecord strip) => new(
        strip,
        [.. StripJudge.Judge(strip).Results.Select(r => new ExportedParameter(
            r.Parameter.Key, r.Parameter.Name, r.Channel, r.Value, r.Aim, r.Deviation, r.StandardUncertainty, r.Zone)
        {
            Unit = r.Parameter.Unit,
            Why = r.WhyMissing,
        })]);
}
