using Acquire.Bench.Guidance;
using Acquire.Instruments.ProfileFiles;
using Acquire.Instruments.Profiles;
using Acquire.Storage.Records;

namespace Acquire.Bench.Sessions;

/// <summary>A session that this program reads, begun just now or taken up again; no other program reads it meanwhile.</summary>
/// <param name="session">The session as it began.</param>
/// <param name="plan">What it needs to be finished.</param>
/// <param name="instrument">The instrument, on the port where it is now.</param>
/// <param name="progress">How far it is.</param>
/// <param name="held">Its lock.</param>
public sealed class OpenSession(
    BenchSession session, SessionPlan plan, InstrumentSetup instrument, SessionProgress progress, SessionLock held) : IDisposable
{
    /// <summary>The session as it began.</summary>
    public BenchSession Session { get; } = session;

    /// <summary>What it needs to be finished.</summary>
    public SessionPlan Plan { get; } = plan;

    /// <summary>The instrument, on the port where it is now.</summary>
    public InstrumentSetup Instrument { get; } = instrument;

    /// <summary>How far it is.</summary>
    public SessionProgress Progress { get; } = progress;

    /// <summary>The beginning of a line that was cut when the session was broken off; null when none was.</summary>
    internal string? Unfinished { get; init; }

    /// <summary>Lets the session go; unless it has ended, another program may take it up.</summary>
    public void Dispose() => held.Dispose();

    /// <summary>What is to be read, from a session and its plan.</summary>
    internal static ReadingPlan PlanOf(BenchSession session, SessionPlan plan) =>
        new(plan.Layout, session.ReadsPerPatch, plan.Channels) { ReadsPerPlacement = plan.ReadsPerPlacement };

    /// <summary>The profile as it was when the session began.</summary>
    /// <exception cref="ProfileException">This version of the program cannot use it.</exception>
    internal static DeviceProfile ProfileOf(SessionPlan plan) => ProfileReader.Read(plan.Profile.Text, plan.Profile.Name + ".json");

    /// <summary>Says that the session has ended, so that its lock is of no more use.</summary>
    internal void HasEnded() => held.SessionEnded();
}
