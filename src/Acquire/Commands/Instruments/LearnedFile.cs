using Acquire.Instruments.Learning;

namespace Acquire.Commands.Instruments;

/// <summary>Writes a learned profile and says what it is.</summary>
internal static class LearnedFile
{
    /// <param name="file">The file.</param>
    /// <param name="learned">The profile.</param>
    /// <param name="surroundings">Where to say it.</param>
    /// <param name="proof">What proved it, besides its samples.</param>
    /// <param name="cancellationToken">Ends the writing; the file is as it was then.</param>
    public static async Task WriteAsync(
        WholeFile file, LearningResult.Learned learned, Surroundings surroundings, string proof, CancellationToken cancellationToken)
    {
        await file.WriteAsync(learned.Json, cancellationToken);
        var samples = learned.Profile.Samples.Length;
        surroundings.Out.Line($"{file.Name}: profile '{learned.Profile.Name}', proved by {samples} samples and {proof}.");
        foreach (var rule in learned.Profile.Rules)
        {
            surroundings.Out.Line($"  {rule.Template!.Text}");
        }
    }
}
