using System.Threading.Channels;
using Acquire.Bench.Guidance;
using Acquire.Bench.Sessions;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Links;
using Channel = System.Threading.Channels.Channel;

namespace Acquire.Bench.Tests.Support;

/// <summary>A guided reading whose instrument, keyboard, display and journal are in the test's hands.</summary>
internal sealed class ScriptedBench(TimeProvider? time = null, TimeSpan? keepAfter = null, int reads = 2) : IBenchDisplay, ISessionJournal
{
    private readonly Channel<Reception> _events = Channel.CreateUnbounded<Reception>();
    private readonly Channel<BenchCommand> _commands = Channel.CreateUnbounded<BenchCommand>();
    private readonly Channel<BenchUpdate> _updates = Channel.CreateUnbounded<BenchUpdate>();

    /// <summary>What is read, if not two patches.</summary>
    public ReadingPlan? Plan { get; init; }

    /// <summary>Finds what to ask; nothing is asked without.</summary>
    public SessionQuestioner? Questioner { get; init; }

    /// <summary>How far the session is; from its beginning unless set.</summary>
    public SessionProgress? Progress { get; set; }

    /// <summary>Reads of each patch.</summary>
    public int Reads => reads;

    public List<ReceivedLine> Journal { get; } = [];

    public List<BenchUpdate> Shown { get; } = [];

    /// <summary>Thrown by the journal from this line on.</summary>
    public (int FromLine, Exception Fault)? JournalFault { get; init; }

    /// <summary>What happened, as the journal has it.</summary>
    public List<JournalEntry> Entries { get; } = [];

    /// <summary>Sends lines, each in a chunk of its own.</summary>
    public void Instrument(params IEnumerable<InstrumentEvent> events) => events.ToList().ForEach(e => Assert.True(_events.Writer.TryWrite(
        new Reception(new JournalEntry(0, e.Line.ReceivedAt, JournalEvent.Received) { Bytes = e.Line.Bytes }, [e]))));

    /// <summary>Thrown by the journal when a decision is to be kept.</summary>
    public Exception? DecisionFault { get; init; }

    public void BreakLink() => _events.Writer.Complete(new LinkException(LinkFault.Gone, "The port went away."));

    public void Fail(Exception fault) => _events.Writer.Complete(fault);

    public void Press(BenchCommand command) => Assert.True(_commands.Writer.TryWrite(command));

    public Task<GuidedOutcome> RunAsync(CancellationToken cancellationToken) =>
        new GuidedReading(
            Progress ??= new SessionProgress(Plan ?? Some.Plan(reads)), this, this, time ?? TimeProvider.System, keepAfter, Questioner)
            .RunAsync(_events.Reader.ReadAllAsync(CancellationToken.None), _commands.Reader, cancellationToken);

    /// <summary>Waits until an update of the wanted kind has been shown.</summary>
    public async Task<T> ShownAsync<T>()
        where T : BenchUpdate
    {
        await foreach (var update in _updates.Reader.ReadAllAsync(TestContext.Current.CancellationToken))
        {
            if (update is T wanted)
            {
                return wanted;
            }
        }

        throw new InvalidOperationException("No more updates.");
    }

    public void Show(BenchUpdate update)
    {
        if (update is BenchUpdate.Accepted or BenchUpdate.Attention)
        {
            Assert.NotEmpty(Journal);
        }

        Shown.Add(update);
        _updates.Writer.TryWrite(update);
    }

    public Task AppendAsync(IReadOnlyList<JournalEntry> entries, IReadOnlyList<ReceivedLine> lines, CancellationToken cancellationToken)
    {
        if (JournalFault is { } fault && lines.Any(l => l.Sequence >= fault.FromLine))
        {
            return Task.FromException(fault.Fault);
        }

        if (DecisionFault is { } decision && entries.Any(e => e.Event == JournalEvent.Decided))
        {
            return Task.FromException(decision);
        }

        Entries.AddRange(entries);
        Journal.AddRange(lines);
        return Task.CompletedTask;
    }
}
