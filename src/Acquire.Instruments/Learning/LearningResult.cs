using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Learning;

/// <summary>What came of learning: a profile that has proved itself, or the reasons why there is none.</summary>
public abstract record LearningResult
{
    private LearningResult()
    {
    }

    /// <summary>A profile that reads the whole capture as shown.</summary>
    /// <param name="Json">The profile as a file.</param>
    /// <param name="Profile">The same, read back and proved by its samples.</param>
    public sealed record Learned(string Json, DeviceProfile Profile) : LearningResult;

    /// <summary>No profile; a wrong one would be worse.</summary>
    /// <param name="Reasons">What is ambiguous or missing, each a sentence for the user; at least one.</param>
    public sealed record Declined(ImmutableArray<string> Reasons) : LearningResult;
}
