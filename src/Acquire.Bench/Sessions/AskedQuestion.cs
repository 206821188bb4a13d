using System.Text.Json;
using Acquire.Analysis.Plausibility;

namespace Acquire.Bench.Sessions;

/// <summary>A question as the journal has it: whole, with what would be done, so that a session is rebuilt without asking anew.</summary>
/// <param name="Kind">The mistake that is suspected, as a word such as <c>wrong_end</c>.</param>
/// <param name="Key">What tells it from other questions.</param>
/// <param name="Question">The question in words.</param>
/// <param name="Remedy">What is proposed.</param>
/// <param name="Evidence">Natural logarithm of the odds of the mistake against "the process did this".</param>
public sealed record AskedQuestion(string Kind, string Key, string Question, Remedy Remedy, double Evidence)
{
    /// <summary>The question about a suspicion.</summary>
    public static AskedQuestion Of(Suspicion suspicion)
    {
        ArgumentNullException.ThrowIfNull(suspicion);
        return new(
            JsonNamingPolicy.SnakeCaseLower.ConvertName(suspicion.Kind.ToString()), suspicion.Key, suspicion.Question, suspicion.Remedy, suspicion.Evidence);
    }
}
