using Acquire.Bench.Readings;
using Acquire.Bench.Trust;
using Acquire.Rendering.Lots;
using Acquire.Rendering.Strips;
using Acquire.Rendering.Trust;

namespace Acquire.Rendering.Readings;

/// <summary>What a reading gave, whatever it was for, and whether it was begun just now or gone on with.</summary>
internal static class KeptReport
{
    public static void Write(Surroundings surroundings, KeptReading kept, bool json)
    {
        var (console, time) = (surroundings.Out, surroundings.Time);
        switch (kept)
        {
            case KeptStrip strip:
                foreach (var warning in strip.Warnings)
                {
                    surroundings.Error.Line(warning);
                }

                StripReport.Write(console, strip.Record, strip.Judgement, time, json, strip.Ties, strip.Context);
                break;
            case KeptReference reference:
                LotReport.WriteOne(console, reference, time, json);
                if (reference.Question is { } question)
                {
                    surroundings.Error.Line($"Worth a look: {question.Question}");
                    surroundings.Error.Line("The values are kept as entered. Enter the reference anew if one is wrong.");
                }

                break;
            case RecheckReview review:
                RecheckReport.Write(console, review, json);
                break;
            case JudgedCheck check:
                CheckReport.Write(console, check, time, json);
                break;
            case KeptTest { Report: var report, Comparison: var comparison } when json:
                JsonOutput.Write(console, RepeatabilityJson.Of(report, comparison));
                break;
            case KeptTest { Report: var report, Comparison: var comparison }:
                RepeatabilityText.Write(console, report, comparison);
                break;
            default:
                throw new InvalidOperationException($"No words for {kept.GetType().Name}.");
        }
    }
}
