using Acquire.Analysis.Charts;
using Acquire.Analysis.Control;
using Acquire.Bench.History;

namespace Acquire.Tests.Rendering.Charts;

/// <summary>Charts of the invented season.</summary>
internal static class ChartModels
{
    /// <summary>A chart with everything on it: two lots, events, a finding, a patch left out, natural limits.</summary>
    public static ChartModel Season(int strips = 60, int leaveOut = 20)
    {
        var points = ChartHistory.Strips(strips, leaveOut).Select(s => StripHistory.PointOf(s, TimeProvider.System)).ToImmutableArray();
        return ChartModel.Of(new ChartRequest(ChartHistory.Sheet, points)
        {
            Events =
            [
                new ChartEvent(points[0].At.AddDays(40), "fresh developer in D8, 2 L & a <new> lid", "new mix"),
                new ChartEvent(points[0].At.AddDays(41), "heater repaired", "repair"),
            ],
            Findings =
            [
                new DriftFinding
                {
                    ParameterKey = "contrast",
                    Channels = [],
                    Side = Side.Low,
                    Shape = DriftShape.Gradual,
                    BeganAtStrip = points[^1].StripId,
                    Began = points[^1].At,
                    Earliest = points[^1].At,
                    Latest = points[^1].At,
                    Noticed = points[^1].At,
                    Step = -0.05,
                    Detectors = [],
                    IsLatest = true,
                    Sentence = "HD − LD in all three colours has been going down little by little.",
                },
            ],
        });
    }

    public static IEnumerable<ChartPoint> Points(this ChartModel model) => model.Panels.SelectMany(p => p.Lines).SelectMany(l => l.Points);
}
