using System.Threading.Channels;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Links;
using Acquire.Instruments.Orders;
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
/// <param name="storePatience">How long a store that another program holds is waited for; null for a minute.</param>
/// <param name="orders">Tells the instrument to read; null where nothing can be told.</param>
public sealed class GuidedReading(
    SessionProgress progress,
    ISessionJournal journal,
    IBenchDisplay display,
    TimeProvider time,
    TimeSpan? keepAfter = null,
    SessionQuestioner? questioner = null,
    TimeSpan? storePatience = null,
    InstrumentOrders? orders = null)
{
    private readonly PatientWrite _patience = new(display, time, storePatience ?? BenchSeat.UsualStorePatience);
    private ImmutableArray<JournalEntry> _unstored = [];
    private Func<bool> _goesOn = () => true;

    /// <summary>A lost link is remembered and not thrown: the last reading may have come with it, and then nothing is missing.</summary>
    private LinkException? _lost;

    /// <summary>
    /// Runs until every patch is read, the user cancels, or a fault ends it. Faults of the link and the store are an outcome, not an
    /// exception: what was read until then is in it.
    /// </summary>
    /// <param name="events">What comes from the instrument; ends with a <see cref="LinkException"/> when the link breaks.</param>
    /// <param name="commands">The user's commands; may be complete from the start where there is no keyboard.</param>
    public Task<GuidedOutcome> RunAsync(
        IAsyncEnumerable<Reception> events, ChannelReader<BenchCommand> commands, CancellationToken cancellationToken) =>
        RunAsync(_ => events, commands, cancellationToken);

    /// <summary>Runs in the same way on a link that comes and goes.</summary>
    /// <param name="listen">Gives what comes from the instrument, and tells the states of the link between them, to be shown.</param>
    /// <param name="commands">The user's commands.</param>
    public async Task<GuidedOutcome> RunAsync(
        Func<Func<LinkState, ValueTask>, IAsyncEnumerable<Reception>> listen,
        ChannelReader<BenchCommand> commands,
        CancellationToken cancellationToken)
    {
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(cancellationToken);
        var inputs = Channel.CreateBounded<BenchInput>(64);
        var token = stop.Token;
        var triggering = new Triggering(orders, inputs.Writer, token);
        var events = listen(state => inputs.Writer.WriteAsync(new BenchInput.LinkChanged(state), token));
        var pumps = Task.WhenAll(BenchInput.PumpAsync(events, inputs.Writer, token), BenchInput.PumpAsync(commands, inputs.Writer, token));
        var reader = new HoldingReader(inputs.Reader);
        _goesOn = () => reader.Hold() && !token.IsCancellationRequested;
        try
        {
            return await FollowAsync(reader, triggering, cancellationToken);
        }
        catch (OperationCanceledException) when (cancellationToken.IsCancellationRequested)
        {
            return End(SessionOutcome.Cancelled, "stopped from outside") with { MayGoOn = true };
        }
        finally
        {
            await stop.CancelAsync();
            await Task.WhenAll(pumps, triggering.Ended);
        }
    }

    private async Task<GuidedOutcome> FollowAsync(HoldingReader inputs, Triggering triggering, CancellationToken cancellationToken)
    {
        if (await BeginAsync(inputs) is { } done)
        {
            return done;
        }

        while (true)
        {
            display.Settled(progress);
            var input = await NextAsync(inputs, cancellationToken);
            var seen = (input as BenchInput.FromUser)?.Command as BenchCommand.Seen;
            if (seen is not null && seen.At < progress.ChangedAt)
            {
                // Whoever gave it looked at another patch or question; only they can say whether they still mean it.
                seen.Answer(false);
                continue;
            }

            var outcome = await ActAsync(seen is null ? input : new BenchInput.FromUser(seen.Command), inputs, triggering);
            display.Settled(progress);
            seen?.Answer(true);
            if (outcome is not null)
            {
                return outcome;
            }
        }
    }

    /// <summary>Acts on one input, and gives how the reading ended if it did by that.</summary>
    private async Task<GuidedOutcome?> ActAsync(BenchInput input, HoldingReader inputs, Triggering triggering)
    {
        try
        {
            switch (input)
            {
                case BenchInput.FromInstrument { Reception: var first }:
                    await TakeAsync([.. inputs.With(first)]);
                    break;
                case BenchInput.LinkLost { Fault: var fault }:
                    _lost = fault;
                    break;
                case BenchInput.LinkChanged { State: var state }:
                    display.Show(BenchUpdate.Link.Of(state));
                    break;
                case BenchInput.OrderEnded { Message: var message }:
                    display.Show(new BenchUpdate.Done(message));
                    break;
                case BenchInput.FromUser { Command: BenchCommand.Trigger }:
                    triggering.Begin(progress.Strip);
                    break;
                case BenchInput.FromUser { Command: BenchCommand.Cancel }:
                    return End(SessionOutcome.Cancelled, "cancelled by the user");
                case BenchInput.FromUser { Command: BenchCommand.Keep } when progress.Questions.Open is not null:
                    display.Show(new BenchUpdate.Done(BenchMessages.AnswerFirst));
                    break;
                case BenchInput.FromUser { Command: BenchCommand.Yes or BenchCommand.No } when progress.Questions.Open is null:
                    display.Show(new BenchUpdate.Done(BenchMessages.NothingIsAsked));
                    break;
                case BenchInput.FromUser { Command: BenchCommand.Yes }:
                    await CarryAsync(new BenchCommand.AcceptRemedy(progress.Questions.Open!.Asked.Key));
                    break;
                case BenchInput.FromUser { Command: BenchCommand.No }:
                    await CarryAsync(new BenchCommand.DismissQuestion(progress.Questions.Open!.Asked.Key));
                    break;
                case BenchInput.FromUser { Command: not BenchCommand.Keep and var command }:
                    await CarryAsync(command);
                    break;
                default:
                    break;
            }
        }
        catch (StoreException fault)
        {
            return Unkept(fault, inputs);
        }

        // A link that goes once all is read spoils nothing, unless a step is then taken back.
        if (_lost is not null && !progress.Strip.IsComplete)
        {
            return End(SessionOutcome.Failed, _lost.Message, _lost) with { MayGoOn = true };
        }

        return progress.Strip.IsComplete && !WaitsForAnswer
            && (keepAfter is null || input is BenchInput.TimeUp or BenchInput.FromUser { Command: BenchCommand.Keep })
            ? End(SessionOutcome.Completed, "all patches read")
            : null;
    }

    /// <summary>A question that is open at a keyboard keeps the session from being completed.</summary>
    private bool WaitsForAnswer => keepAfter is not null && progress.Questions.Open is not null;

    /// <summary>
    /// Shows where the session is; one that was taken up again may be complete, or may have been broken off before a question was asked.
    /// </summary>
    private async Task<GuidedOutcome?> BeginAsync(HoldingReader inputs)
    {
        try
        {
            await AskAsync();
        }
        catch (StoreException fault)
        {
            return Unkept(fault, inputs);
        }

        Prompt();
        return progress.Strip.IsComplete && keepAfter is null ? End(SessionOutcome.Completed, "all patches read") : null;
    }

    /// <summary>The next input; when all is read and a person may still take a step back, waits only so long.</summary>
    private async Task<BenchInput> NextAsync(ChannelReader<BenchInput> inputs, CancellationToken cancellationToken)
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
            return new BenchInput.TimeUp();
        }
    }

    /// <summary>Keeps what came first, then looks at it. What has arrived is kept even when the session is being cancelled.</summary>
    private async Task TakeAsync(ImmutableArray<Reception> receptions)
    {
        // All that waited is one write, so that a burst of lines costs one wait for the disk. Numbers are given before: they are the order
        // in which a rebuilt session takes the entries.
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
                ShowRepeats();
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

        // While reading goes on, the next reading brings the next question; a strip that is complete has no next reading.
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
            // With the number of reads: one that arrived while the question was written passes it over, in a rebuilt session too.
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
    private void ShowRepeats()
    {
        if (questioner is null && progress.Strip.LastRead is { Target: var target }
            && RepeatCheck.Question(progress.Strip, target) is { } question)
        {
            display.Show(new BenchUpdate.Attention(question));
        }
    }

    private async Task KeepAsync(ImmutableArray<JournalEntry> entries, ImmutableArray<ReceivedLine> lines)
    {
        // Not cancellable: what the instrument sent is kept, whoever has stopped waiting for it.
        _unstored = entries;
        await _patience.DoAsync(() => journal.AppendAsync(entries, lines, CancellationToken.None), _goesOn);
        _unstored = [];
    }

    /// <summary>The store failed: what it did not take, and what has come since, goes along to be rescued.</summary>
    private GuidedOutcome Unkept(StoreException fault, HoldingReader inputs)
    {
        var since = inputs.TakeReceptions().Select(progress.Number).ToList();
        _ = progress.Add(since.SelectMany(r => r.Events));
        return End(SessionOutcome.Failed, fault.Message, fault) with
        {
            MayGoOn = true,
            Unstored = [.. _unstored, .. since.Select(r => r.Entry)],
        };
    }

    /// <summary>Says what is next, unless the user is being asked something: the question says it too.</summary>
    private void Prompt()
    {
        if (!WaitsForAnswer)
        {
            display.Show(progress.Strip.Next is { } target
                ? new BenchUpdate.Prompt(target, !progress.Strip.CanUndo)
                : new BenchUpdate.AllRead(keepAfter));
        }
    }

    private GuidedOutcome End(SessionOutcome outcome, string reason, Exception? fault = null) =>
        new(outcome, reason, progress.Strip, [.. progress.Lines], fault);
}
