namespace Acquire.Analysis.Gauge;

/// <summary>One patch in one channel of a repeatability test.</summary>
/// <param name="Patch">Key of the patch.</param>
/// <param name="Channel">The channel.</param>
/// <param name="Level">Mean of its reads.</param>
/// <param name="LevelUncertainty">Standard uncertainty of the level, from the scatter pooled over the patches.</param>
/// <param name="Reads">How many reads it has.</param>
/// <param name="Scatter">How far its reads scatter; null with one read.</param>
/// <param name="Suspect">The read that stands apart; null when none does.</param>
public sealed record PatchRepeatability(
    string Patch, Channel Channel, double Level, double LevelUncertainty, int Reads, Scatter? Scatter, SuspectRead? Suspect)
{
    /// <summary>Whether several reads were made, all in one placement of the film.</summary>
    public bool NeverPlacedAnew { get; init; }
}
