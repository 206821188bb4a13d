using Acquire.Bench.Guidance;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Links;
using Acquire.Storage.Records;

namespace Acquire.Bench.Sessions;

/// <summary>Something to show the user at the bench. Whatever was received is in the store before it is shown.</summary>
public abstract record BenchUpdate
{
    private BenchUpdate()
    {
    }

    /// <summary>Something to know about the reading that is none of its steps.</summary>
    public sealed record Notice(string Text) : BenchUpdate;

    /// <summary>A session of the same was broken off before and can be gone on with; it blocks nothing.</summary>
    public sealed record BrokenOff(StoredSession Session) : BenchUpdate;

    /// <summary>A session that was broken off goes on.</summary>
    /// <param name="Strip">What was read until then.</param>
    /// <param name="Last">The last read that counts; null when there is none.</param>
    /// <param name="Unfinished">The beginning of a line that was cut by the break; null when none was.</param>
    public sealed record Resumed(GuidedStrip Strip, (ReadTarget Target, Reading Reading)? Last, string? Unfinished) : BenchUpdate;

    /// <summary>The next patch to read.</summary>
    public sealed record Prompt(ReadTarget Target, GuidedStrip Strip) : BenchUpdate;

    /// <summary>A reading was taken for a patch.</summary>
    public sealed record Accepted(ReadTarget Target, Reading Reading) : BenchUpdate;

    /// <summary>A line was not taken for a reading and wants the user's eye.</summary>
    public sealed record Attention(InstrumentEvent Event, string Message) : BenchUpdate;

    /// <summary>A line of no consequence: a header, a calibration.</summary>
    public sealed record Remark(InstrumentEvent Event) : BenchUpdate;

    /// <summary>A reading looks like a mistake; a remedy is proposed, and nothing is changed before the user agrees.</summary>
    /// <param name="Remedy">What is proposed, in words.</param>
    /// <param name="Next">What comes next if the user just goes on; null when all is read.</param>
    public sealed record Question(string Text, string Remedy, ReadTarget? Next) : BenchUpdate;

    /// <summary>A command of the user's was carried out, or could not be.</summary>
    public sealed record Done(string Message) : BenchUpdate;

    /// <summary>
    /// The link to the instrument is in another state; reading goes on at the same patch and read when it is connected again.
    /// </summary>
    public sealed record Link(LinkState State) : BenchUpdate;

    /// <summary>All is read; the strip is kept after the given time unless the user takes a step back.</summary>
    public sealed record AllRead(GuidedStrip Strip, TimeSpan? KeptIn) : BenchUpdate;
}

/// <summary>Shows updates: the terminal, later the page. Called by one task at a time; must not throw.</summary>
public interface IBenchDisplay
{
    void Show(BenchUpdate update);
}
