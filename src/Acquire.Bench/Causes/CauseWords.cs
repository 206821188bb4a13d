using Acquire.Analysis.Causes;

namespace Acquire.Bench.Causes;

/// <summary>The sentences about causes, whoever says them.</summary>
public static class CauseWords
{
    public const string Last =
        "These are possibilities, ranked by how well they fit the strip and what is known; they are no oracle. Only a test decides.";

    /// <summary>The one sentence that counts.</summary>
    public static string First(CauseStudy study) => study switch
    {
        { WhyNone: { } why } => $"No cause can be weighed: {why}",
        { Groups: [], NothingProbability: < 0.5 } =>
            $"Natural scatter explains this strip better than any cause ({Numbers.Percent(study.NothingProbability)}).",
        { Groups: [] } =>
            $"Nothing but natural scatter is needed to explain this strip ({Numbers.Percent(study.NothingProbability)}).",
        { FitsNothing: true, Groups: [{ Probability: var share }, ..] } =>
            $"No known cause fits this strip; most likely it is something else ({Numbers.Percent(share)}). Read it again first, then run a "
            + "second strip.",
        { Pairs: [{ Probability: >= 0.5 } pair, ..] } =>
            $"Most likely two faults at once ({Numbers.Percent(pair.Probability)}): {pair.First.Name}, and {pair.Second.Name}.",
        { Groups: [{ Family.Origin: FaultOrigin.Reading, Family.Name: var name, Probability: var share, Causes: [var first, ..] }, ..] } =>
            $"Most likely {name} ({Numbers.Percent(share)})"
            + (first.Of.Name == name ? "" : $": {first.Of.Name}") + ". Read the strip again before anything is changed.",
        { Groups: [{ Family: var family, Probability: var share, Causes: var causes }, ..] } =>
            $"Most likely {family.Name} ({Numbers.Percent(share)})"
            + (causes.Length > 1 ? $": {Short(causes[0].Of.Name)} ({Numbers.Percent(causes[0].Probability)}), "
                + $"{Short(causes[1].Of.Name)} ({Numbers.Percent(causes[1].Probability)})" : "")
            + (causes.Length > 2 ? " and others of its kind." : "."),
    };

    /// <summary>Two faults at once, a sentence each.</summary>
    public static IEnumerable<string> Pairs(CauseStudy study) => study.Pairs.Select(
        p => $"Both at once: {p.First.Name}, and {p.Second.Name} ({Numbers.Percent(p.Probability)}).");

    /// <summary>What treating the strip again told, a sentence each; tests that told nothing are left out.</summary>
    public static IEnumerable<string> Tests(CauseCase found) => found.Tests
        .Where(t => t.Outcome != TestOutcome.Open)
        .GroupBy(t => (t.Treatment, t.Outcome))
        .Select(g => $"Read again after {g.Key.Treatment.Word()}: {string.Join(", ", g.Select(t => Short(t.Fault.Name)))} "
            + $"{(g.Key.Outcome == TestOutcome.BorneOut ? "borne out, as it came back" : "ruled out, as nothing of the kind came back")}.");

    /// <summary>A fault without its explanation behind the colon.</summary>
    private static string Short(string name) => name.Split(':')[0];
}
