using Acquire.Instruments.Learning;

namespace Acquire.Commands.Instruments;

/// <summary>Writes a learned profile and says what it is.</summary>
internal static class LearnedFile
{
    /// <summary>Writes beside the file and moves into place, so that an older one is never lost half-way.</summary>
    /// <param name="path">The file.</param>
    /// <param name="learned">The profile.</param>
    /// <param name="surroundings">Where to say it.</param>
    /// <param name="proof">What proved it, besides its samples.</param>
    /// <param name="cancellationToken">Ends the writing; the file is as it was then.</param>
    public static async Task WriteAsync(string path, LearningResult.Learned learned, Surroundings surroundings, string proof, CancellationToken cancellationToken)
    {
        var beside = $"{path}.{Guid.NewGuid():N}.tmp";
        try
        {
            await File.WriteAllTextAsync(beside, learned.Json, cancellationToken);
            File.Move(beside, path, overwrite: true);
        }
        finally
        {
            File.Delete(beside);
        }

        surroundings.Out.Line($"{path}: profile '{learned.Profile.Name}', proved by {learned.Profile.Samples.Length} samples and {proof}.");
        foreach (var rule in learned.Profile.Rules)
        {
            surroundings.Out.Line($"  {rule.Template!.Text}");
        }
    }
}
