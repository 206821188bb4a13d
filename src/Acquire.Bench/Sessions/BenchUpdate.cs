using System.Text.Json.Serialization;
using Acquire.Bench.Guidance;
using Acquire.Instruments.Links;

namespace Acquire.Bench.Sessions;

/// <summary>
/// Something to show the user at the bench. Whatever was received is in the store before it is shown. It is plain data, so that a terminal
/// that watches over a socket shows what one beside the instrument does; its words in JSON never change.
/// </summary>
[JsonPolymorphic(TypeDiscriminatorPropertyName = "kind")]
[JsonDerivedType(typeof(Notice), "notice")]
[JsonDerivedType(typeof(BrokenOff), "brokenOff")]
[JsonDerivedType(typeof(Resumed), "resumed")]
[JsonDerivedType(typeof(Prompt), "prompt")]
[JsonDerivedType(typeof(Accepted), "accepted")]
[JsonDerivedType(typeof(Attention), "attention")]
[JsonDerivedType(typeof(Remark), "remark")]
[JsonDerivedType(typeof(Question), "question")]
[JsonDerivedType(typeof(Done), "done")]
[JsonDerivedType(typeof(Link), "link")]
[JsonDerivedType(typeof(AllRead), "allRead")]
public abstract record BenchUpdate
{
    private BenchUpdate()
    {
    }

    /// <summary>Something to know about the reading that is none of its steps.</summary>
    public sealed record Notice(string Text) : BenchUpdate;

    /// <summary>A session of the same was broken off before and can be gone on with; it blocks nothing.</summary>
    /// <param name="Reads">What it reads, in words.</param>
    public sealed record BrokenOff(Guid Session, string Reads, DateTimeOffset BegunAt, int Lines) : BenchUpdate;

    /// <summary>A session that was broken off goes on.</summary>
    /// <param name="Reads">How many reads that count were taken until then.</param>
    /// <param name="Last">The last of them; null when there is none.</param>
    /// <param name="Densities">What it read.</param>
    /// <param name="Unfinished">The beginning of a line that was cut by the break; null when none was.</param>
    public sealed record Resumed(int Reads, ReadTarget? Last, ChannelDensities? Densities, string? Unfinished) : BenchUpdate;

    /// <summary>The next patch to read.</summary>
    /// <param name="IsFirst">Whether nothing has been done yet that could be taken back.</param>
    public sealed record Prompt(ReadTarget Target, bool IsFirst) : BenchUpdate;

    /// <summary>A reading was taken for a patch.</summary>
    public sealed record Accepted(ReadTarget Target, ChannelDensities Densities) : BenchUpdate;

    /// <summary>A line was not taken for a reading and wants the user's eye.</summary>
    public sealed record Attention(string Message) : BenchUpdate;

    /// <summary>A line of no consequence: a header, a calibration.</summary>
    public sealed record Remark(LineMeaning Meaning, string Text) : BenchUpdate;

    /// <summary>A reading looks like a mistake; a remedy is proposed, and nothing is changed before the user agrees.</summary>
    /// <param name="Remedy">What is proposed, in words.</param>
    /// <param name="Next">What comes next if the user just goes on; null when all is read.</param>
    public sealed record Question(string Text, string Remedy, ReadTarget? Next) : BenchUpdate;

    /// <summary>A command of the user's was carried out, or could not be.</summary>
    public sealed record Done(string Message) : BenchUpdate;

    /// <summary>
    /// The link to the instrument is in another state; reading goes on at the same patch and read when it is connected again.
    /// </summary>
    /// <param name="Notices">What the user should know about how it was opened.</param>
    public sealed record Link(LinkCondition Condition, string Message, ImmutableArray<string> Notices) : BenchUpdate
    {
        public static Link Of(LinkState state) => state switch
        {
            LinkState.Connected { Notices: var notices } => new(LinkCondition.Connected, state.Message, notices),
            LinkState.Silent => new(LinkCondition.Silent, state.Message, []),
            LinkState.NotOpen => new(LinkCondition.NotOpen, state.Message, []),
            LinkState.Gone => new(LinkCondition.Gone, state.Message, []),
            LinkState.Reconnecting => new(LinkCondition.Reconnecting, state.Message, []),
            _ => throw new ArgumentOutOfRangeException(nameof(state), state, null),
        };
    }

    /// <summary>All is read; the strip is kept after the given time unless the user takes a step back.</summary>
    public sealed record AllRead(TimeSpan? KeptIn) : BenchUpdate;
}

/// <summary>What is known of a link; see <see cref="LinkState"/>.</summary>
public enum LinkCondition
{
    Connected,
    Silent,
    NotOpen,
    Gone,
    Reconnecting,
}

/// <summary>Shows updates: a terminal, a page, a service's watchers. Called by one task at a time; must not throw.</summary>
public interface IBenchDisplay
{
    void Show(BenchUpdate update);

    /// <summary>What has happened so far is in the journal and shown as a whole; nothing more follows from it.</summary>
    void Settled(SessionProgress progress)
    {
    }
}
