using System.Threading.Channels;
using Acquire.Bench.Guidance;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Links;
using Channel = System.Threading.Channels.Channel;

namespace Acquire.Bench.Sessions;

/// <summary>
/// Leads the user through the patches of one strip. Each reading that fits advances, so the instrument's own key is enough; commands
/// are for second thoughts. One loop owns the state; the instrument and the keyboard only feed its queue. Whatever comes is in the
/// journal first, then it takes effect, then it is shown.
/// </summary>
/// <param name="progress">How far the session is: at its beginning, or rebuilt from its journal.</param>
/// <param name="journal">Where everything is kept first.</param>
/// <param name="display">Where it is shown last.</param>
/// <param name="time">Stamps decisions and measures how long steps can be taken back.</param>
/// <param name="keepAfter">
/// How long the user may take a step back when all is read; null where nobody is at a keyboard, and the strip is kept at once.
/// </param>
/// <param name="questioner">Finds what to ask; null where only repeats are looked at.</param>
public sealed class GuidedReading(
    SessionProgress progress, ISessionJournal journal, IBenchDisplay display, TimeProvider time, TimeSpan? keepAfter = null,
    SessionQuestioner? questioner = null)
{
    /// <summary>What has come while the disk was busy shares its next commit, up to so much.</summary>
    private const int MostAtOnce = 64;

    private ImmutableArray<JournalEntry> _unstored = [];

    /// <summary>
    /// Runs until every patch is read, the user cancels, or a fault ends it. Faults of the link and the store are an outcome, not an
    /// exception: what was read until then is in it.
    /// </summary>
    /// <param name="events">What comes from the instrument; ends with a <see cref="LinkException"/> when the link breaks.</param>
    /// <param name="commands">The user's commands; may be complete from the start where there is no keyboard.</param>
    /// <param name="cancellationToken">Cancels the session, which is an outcome as well.</param>
    public Task<GuidedOutcome> RunAsync(
        IAsyncEnumerable<Reception> events, ChannelReader<BenchCommand> commands, CancellationToken cancellationToken) =>
        RunAsync(_ => events, commands, cancellationToken);

    /// <summary>Runs in the same way on a link that comes and goes.</summary>
    /// <param name="listen">Gives what comes from the instrument, and tells the states of the link between them, to be shown.</param>
    /// <param name="commands">The user's commands.</param>
    /// <param name="cancellationToken">Cancels the session.</param>
    public async Task<GuidedOutcome> RunAsync(
        Func<Func<LinkState, ValueTask>, IAsyncEnumerable<Reception>> listen,
        ChannelReader<BenchCommand> commands,
        CancellationToken cancellationToken)
    {
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(cancellationToken);
        var inputs = Channel.CreateBounded<Input>(64);
        var token = stop.Token;
        var events = listen(state => inputs.Writer.WriteAsync(new Input.LinkChanged(state), token));
        var pumps = Task.WhenAll(PumpEventsAsync(events, inputs.Writer, token), PumpCommandsAsync(commands, inputs.Writer, token));
        try
        {
            return await FollowAsync(inputs.Reader, cancellationToken);
        }
        catch (OperationCanceledException) when (cancellationToken.IsCancellationRequested)
        {
            return End(SessionOutcome.Cancelled, "stopped from outside") with { MayGoOn = true };
        }
        finally
        {
            await stop.CancelAsync();
            await pumps;
        }
    }

    private async Task<GuidedOutcome> FollowAsync(ChannelReader<Input> inputs, CancellationToken cancellationToken)
    {
        LinkException? lost = null;
        if (await BeginAsync() is { } done)
        {
            return done;
        }

        while (true)
        {
            var input = await NextAsync(inputs, cancellationToken);
            try
            {
                switch (input)
                {
                    case Input.FromInstrument { Reception: var first }:
                        await TakeAsync([first, .. Waiting(inputs)]);
                        break;
                    case Input.LinkLost { Fault: var fault }:
                        lost = fault;
                        break;
                    case Input.LinkChanged { State: var state }:
                        display.Show(new BenchUpdate.Link(state));
                        break;
                    case Input.FromUser { Command: BenchCommand.Cancel }:
                        return End(SessionOutcome.Cancelled, "cancelled by the user");
                    case Input.FromUser { Command: BenchCommand.Keep } when progress.Questions.Open is not null:
                        display.Show(new BenchUpdate.Done(BenchMessages.AnswerFirst));
                        break;
                    case Input.FromUser { Command: BenchCommand.Keep }:
                        break;
                    case Input.FromUser { Command: BenchCommand.Yes or BenchCommand.No } when progress.Questions.Open is null:
                        display.Show(new BenchUpdate.Done(BenchMessages.NothingIsAsked));
                        break;
                    case Input.FromUser { Command: BenchCommand.Yes }:
                        await CarryAsync(new BenchCommand.AcceptRemedy(progress.Questions.Open!.Asked.Key));
                        break;
                    case Input.FromUser { Command: BenchCommand.No }:
                        await CarryAsync(new BenchCommand.DismissQuestion(progress.Questions.Open!.Asked.Key));
                        break;
                    case Input.FromUser { Command: var command }:
                        await CarryAsync(command);
                        break;
                    default:
                        break;
                }
            }
            catch (StoreException fault)
            {
                return End(SessionOutcome.Failed, fault.Message, fault) with { MayGoOn = true, Unstored = _unstored };
            }

            // A link that goes once all is read spoils nothing, unless a step is then taken back.
            if (lost is not null && !progress.Strip.IsComplete)
            {
                return End(SessionOutcome.Failed, lost.Message, lost) with { MayGoOn = true };
            }

            if (progress.Strip.IsComplete && !WaitsForAnswer
                && (keepAfter is null || input is Input.TimeUp or Input.FromUser { Command: BenchCommand.Keep }))
            {
                return End(SessionOutcome.Completed, "all patches read");
            }
        }
    }

    /// <summary>A question that is open at a keyboard keeps the session from being completed.</summary>
    private bool WaitsForAnswer => keepAfter is not null && progress.Questions.Open is not null;

    /// <summary>
    /// Shows where the session is; one that was taken up again may be complete, or may have been broken off before a question was asked.
    /// </summary>
    private async Task<GuidedOutcome?> BeginAsync()
    {
        try
        {
            await AskAsync();
        }
        catch (StoreException fault)
        {
            return End(SessionOutcome.Failed, fault.Message, fault) with { MayGoOn = true, Unstored = _unstored };
        }

        Prompt();
        return progress.Strip.IsComplete && keepAfter is null ? End(SessionOutcome.Completed, "all patches read") : null;
    }

    /// <summary>The next input; when all is read and a person may still take a step back, waits only so long.</summary>
    private async Task<Input> NextAsync(ChannelReader<Input> inputs, CancellationToken cancellationToken)
    {
        if (!progress.Strip.IsComplete || WaitsForAnswer || keepAfter is not { } limit)
        {
            return await inputs.ReadAsync(cancellationToken);
        }

        using var timeUp = new CancellationTokenSource(limit, time);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(timeUp.Token, cancellationToken);
        try
        {
            return await inputs.ReadAsync(either.Token);
        }
        catch (OperationCanceledException) when (timeUp.IsCancellationRequested && !cancellationToken.IsCancellationRequested)
        {
            return new Input.TimeUp();
        }
    }

    /// <summary>What has come from the instrument meanwhile, up to where something else was put in between.</summary>
    private static IEnumerable<Reception> Waiting(ChannelReader<Input> inputs)
    {
        for (var n = 1; n < MostAtOnce && inputs.TryPeek(out var next) && next is Input.FromInstrument { Reception: var more }; n++)
        {
            _ = inputs.TryRead(out _);
            yield return more;
        }
    }

    /// <summary>Keeps what came first, then looks at it. What has arrived is kept even when the session is being cancelled.</summary>
    private async Task TakeAsync(ImmutableArray<Reception> receptions)
    {
        var events = receptions.SelectMany(r => r.Events).ToList();
        ImmutableArray<JournalEntry> entries = [.. receptions.Select(r => progress.Number(r.Entry))];
        await KeepAsync(entries, progress.Add(events));
        foreach (var received in events)
        {
            var before = progress.Strip;
            foreach (var update in progress.Take(received))
            {
                display.Show(update);
            }

            if (!ReferenceEquals(before, progress.Strip))
            {
                ShowRepeats(received);
                await AskAsync();
                Prompt();
            }
        }
    }

    /// <summary>Keeps a decision first, then carries it out.</summary>
    private async Task CarryAsync(BenchCommand decision)
    {
        var entry = progress.Number(new JournalEntry(0, time.GetUtcNow(), JournalEvent.Decided) { Decision = DecisionJson.Of(decision) });
        await KeepAsync([entry], []);
        display.Show(progress.Carry(decision, entry.At));
        if (progress.Strip.IsComplete && progress.Questions.Open is null)
        {
            await AskAsync();
        }
        else
        {
            ShowQuestion();
        }

        Prompt();
    }

    /// <summary>Asks what is to be asked about the strip as it stands: in the journal first, as everything.</summary>
    private async Task AskAsync()
    {
        if (questioner?.Next(progress) is { } question)
        {
            var ask = new BenchCommand.Ask(question, progress.Strip.ReadsTaken);
            var entry = progress.Number(new JournalEntry(0, time.GetUtcNow(), JournalEvent.Decided) { Decision = DecisionJson.Of(ask) });
            await KeepAsync([entry], []);
            _ = progress.Carry(ask, entry.At);
        }

        ShowQuestion();
    }

    private void ShowQuestion()
    {
        if (progress.Questions.Open is { Asked: var asked })
        {
            display.Show(
                new BenchUpdate.Question(asked.Question, RemedyWords.Of(asked.Remedy, progress.Strip.Plan.Layout), progress.Strip.Next));
        }
    }

    /// <summary>Where nothing is known of the strip, only that repeats lie close.</summary>
    private void ShowRepeats(InstrumentEvent received)
    {
        if (questioner is null && progress.Strip.LastRead is { Target: var target }
            && RepeatCheck.Question(progress.Strip, target) is { } question)
        {
            display.Show(new BenchUpdate.Attention(received, question));
        }
    }

    private async Task KeepAsync(ImmutableArray<JournalEntry> entries, ImmutableArray<ReceivedLine> lines)
    {
        _unstored = entries;
        await journal.AppendAsync(entries, lines, CancellationToken.None);
        _unstored = [];
    }

    /// <summary>Says what is next, unless the user is being asked something: the question says it too.</summary>
    private void Prompt()
    {
        if (!WaitsForAnswer)
        {
            display.Show(progress.Strip.Next is { } target
                ? new BenchUpdate.Prompt(target, progress.Strip)
                : new BenchUpdate.AllRead(progress.Strip, keepAfter));
        }
    }

    private GuidedOutcome End(SessionOutcome outcome, string reason, Exception? fault = null) =>
        new(outcome, reason, progress.Strip, [.. progress.Lines], fault);

    private static async Task PumpEventsAsync(IAsyncEnumerable<Reception> events, ChannelWriter<Input> inputs, CancellationToken stop)
    {
        try
        {
            await foreach (var received in events.WithCancellation(stop))
            {
                await inputs.WriteAsync(new Input.FromInstrument(received), stop);
            }

            await inputs.WriteAsync(new Input.LinkLost(new LinkException(LinkFault.Gone, "The instrument ended the connection.")), stop);
        }
        catch (LinkException fault)
        {
            await inputs.WriteAsync(new Input.LinkLost(fault), stop).AsTask().ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        }
        catch (OperationCanceledException)
        {
            // The session has ended.
        }
        catch (Exception fault)
        {
            // A fault of the program: the session must end with it, not wait for lines that will never come.
            inputs.TryComplete(fault);
            throw;
        }
    }

    private static async Task PumpCommandsAsync(ChannelReader<BenchCommand> commands, ChannelWriter<Input> inputs, CancellationToken stop)
    {
        try
        {
            await foreach (var command in commands.ReadAllAsync(stop))
            {
                await inputs.WriteAsync(new Input.FromUser(command), stop);
            }
        }
        catch (OperationCanceledException)
        {
            // The session has ended.
        }
    }

    private abstract record Input
    {
        public sealed record FromInstrument(Reception Reception) : Input;

        public sealed record FromUser(BenchCommand Command) : Input;

        public sealed record LinkChanged(LinkState State) : Input;

        public sealed record LinkLost(LinkException Fault) : Input;

        public sealed record TimeUp : Input;
    }
}

/// <summary>How a guided reading ended and what it gave; also of a cancelled or failed one nothing is lost.</summary>
/// <param name="Outcome">How it ended.</param>
/// <param name="Reason">Why, in words for the user.</param>
/// <param name="Strip">What was read.</param>
/// <param name="Lines">Every line received, in order.</param>
/// <param name="Fault">What ended it when it failed.</param>
public sealed record GuidedOutcome(
    SessionOutcome Outcome, string Reason, GuidedStrip Strip, ImmutableArray<ReceivedLine> Lines, Exception? Fault = null)
{
    /// <summary>Whether it was broken off by something that passes, so that the session need not end with it.</summary>
    public bool MayGoOn { get; init; }

    /// <summary>What came last and could not be kept any more; empty unless the store failed.</summary>
    public ImmutableArray<JournalEntry> Unstored { get; init; } = [];

    /// <summary>How many lines fitted nothing in the profile.</summary>
    public int UnmatchedLines => Lines.Count(l => l.Meaning == LineMeaning.Unmatched);
}
