using Acquire.Analysis.Plausibility;
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
        var check = new PlausibilityCheck(new StripKnowledge(Records.Sheet, Records.Layout) { Aims = desk.Aims(strip.LotCode) });
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

    /// <summary>
    /// What is asked about a strip that was typed or imported, by a dry run or otherwise. It is not looked at at all yet: there is nothing
    /// to ask.
    /// </summary>
    public static Func<House, string?>? Typed => null;
}
