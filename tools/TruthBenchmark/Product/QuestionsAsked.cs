using Acquire.Analysis.Plausibility;
using Acquire.Bench.Questions;
using TruthBenchmark.World;

namespace TruthBenchmark.Product;

/// <summary>What a user is asked about a strip because it looks like a mistake of reading.</summary>
internal static class QuestionsAsked
{
    /// <summary>
    /// The kind of the first question while the last strip of a house is read at the instrument, read by read, and when it is complete;
    /// null when none is asked.
    /// </summary>
    public static string? Live(House house)
    {
        var desk = new Desk(house);
        var strip = desk.Record(house.Strips.Length - 1);
        var check = new PlausibilityCheck(new StripKnowledge(Records.Sheet, Records.Layout)
        {
            Aims = desk.Aims(strip.LotCode),
            // As the strip's own knowledge before it is read: the store has all the others.
            Instrument = desk.Judging.InstrumentOf(strip.Provenance.Instrument!.Profile, strip.Provenance.At),
            Lately = [.. Enumerable.Range(0, house.Strips.Length - 1).Select(desk.Record)],
        });
        var read = Records.Layout.Patches.Select(PatchReads.None).ToArray();
        var at = strip.Provenance.At;
        for (var i = 0; i < read.Length; i++)
        {
            at = at.AddSeconds(7);
            var densities = strip.Patches[i].Reads[0].Reading.Densities;
            read[i] = read[i] with
            {
                Reads = [new PatchRead(new Reading(densities, at, [RawLine.OfText(densities.ToString(), at)]))],
            };
            if (check.QuestionAfterRead([.. read]) is { } asked)
            {
                return asked.Kind.ToString();
            }
        }

        return check.QuestionWhenComplete([.. read])?.Kind.ToString();
    }

    /// <summary>The kind of what is asked about the last strip of a house when it is typed or imported; null when nothing is.</summary>
    public static string? Typed(House house)
    {
        var desk = new Desk(house);
        return WholeStripQuestions.WithoutStore(desk.Judging).Of(desk.Record(house.Strips.Length - 1))?.Kind;
    }
}
