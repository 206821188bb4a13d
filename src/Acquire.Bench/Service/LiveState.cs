using Acquire.Bench.Guidance;
using Acquire.Bench.Sessions;

namespace Acquire.Bench.Service;

/// <summary>What a session is doing.</summary>
public enum LivePhase
{
    /// <summary>The next patch is awaited.</summary>
    Reading,

    /// <summary>A question waits for an answer; the next reading may come all the same.</summary>
    Asking,

    /// <summary>All is read, and the last step may still be taken back.</summary>
    AllRead,

    /// <summary>A record was made.</summary>
    Completed,

    /// <summary>Somebody ended it.</summary>
    Cancelled,

    /// <summary>A fault ended it.</summary>
    Failed,

    /// <summary>It was broken off, and can be gone on with.</summary>
    BrokenOff,
}

/// <summary>A session as it stands, as a whole: whoever has the newest needs none before it.</summary>
/// <param name="Sequence">The number of its journal's last entry.</param>
/// <param name="Strip">What was read, and what comes next.</param>
/// <param name="Question">The question that waits for an answer; null when none does.</param>
/// <param name="Reason">How it ended; null while it goes on.</param>
/// <param name="Kept">What it gave; null until it is complete.</param>
public sealed record LiveState(
    int Sequence, LivePhase Phase, GuidedStrip Strip, BenchUpdate.Question? Question, string? Reason, KeptReading? Kept)
{
    /// <summary>Whether nothing more comes of it.</summary>
    public bool IsOver => Phase is not (LivePhase.Reading or LivePhase.Asking or LivePhase.AllRead);
}
