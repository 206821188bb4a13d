using System.Collections.Immutable;
using System.Threading.Channels;
using Acquire.Bench.Guidance;
using Acquire.Domain;
using Acquire.Domain.Sessions;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Links;

namespace Acquire.Bench.Sessions;

/// <summary>
/// Leads the user through the patches of one strip. Each reading that fits advances, so the instrument's own key is enough; commands
/// are for second thoughts. One loop owns the state; the instrument and the keyboard only feed its queue.
/// </summary>
public sealed class GuidedReading(
    ReadingPlan plan, ISessionJournal journal, IBenchDisplay display, TimeProvider time, TimeSpan? keepAfter = null)
{
    private readonly ImmutableArray<ReceivedLine>.Builder _lines = ImmutableArray.CreateBuilder<ReceivedLine>();
    private GuidedStrip _strip = GuidedStrip.Begin(plan);

    /// <summary>
    /// Runs until every patch is read, the user cancels, or a fault ends it. Faults of the link and the store are an outcome, not an
    /// exception: what was read until then is in it.
    /// </summary>
    /// <param name="events">The instrument's lines; ends with a <see cref="LinkException"/> when the link breaks.</param>
    /// <param name="commands">The user's commands; may be complete from the start where there is no keyboard.</param>
    /// <param name="cancellationToken">Cancels the session, which is an outcome as well.</param>
    public Task<GuidedOutcome> RunAsync(
        IAsyncEnumerable<InstrumentEvent> events, ChannelReader<BenchCommand> commands, CancellationToken cancellationToken) =>
        RunAsync(_ => events, commands, cancellationToken);

    /// <summary>Runs in the same way on a link that comes and goes.</summary>
    /// <param name="listen">Gives the instrument's lines, and tells the states of the link between them, to be shown.</param>
    /// <param name="commands">The user's commands.</param>
    /// <param name="cancellationToken">Cancels the session.</param>
    public async Task<GuidedOutcome> RunAsync(
        Func<Func<LinkState, ValueTask>, IAsyncEnumerable<InstrumentEvent>> listen,
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
            return End(SessionOutcome.Cancelled, "stopped from outside");
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
        Prompt();
        while (true)
        {
            var input = await NextAsync(inputs, cancellationToken);
            try
            {
                switch (input)
                {
                    case Input.FromInstrument { Event: var received }:
                        await TakeAsync(received);
                        break;
                    case Input.LinkLost { Fault: var fault }:
                        lost = fault;
                        break;
                    case Input.LinkChanged { State: var state }:
                        display.Show(new BenchUpdate.Link(state));
                        break;
                    case Input.FromUser { Command: BenchCommand.Cancel }:
                        return End(SessionOutcome.Cancelled, "cancelled by the user");
                    case Input.FromUser { Command: var command }:
                        Carry(command);
                        break;
                    default:
                        break;
                }
            }
            catch (Storage.StoreException fault)
            {
                return End(SessionOutcome.Failed, fault.Message, fault);
            }

            // A link that goes once all is read spoils nothing, unless a step is then taken back.
            if (lost is not null && !_strip.IsComplete)
            {
                return End(SessionOutcome.Failed, lost.Message, lost);
            }

            if (_strip.IsComplete && (keepAfter is null || input is Input.TimeUp or Input.FromUser { Command: BenchCommand.Keep }))
            {
                return End(SessionOutcome.Completed, "all patches read");
            }
        }
    }

    /// <summary>The next input; when all is read and a person may still take a step back, waits only so long.</summary>
    private async Task<Input> NextAsync(ChannelReader<Input> inputs, CancellationToken cancellationToken)
    {
        if (!_strip.IsComplete || keepAfter is not { } limit)
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

    /// <summary>Keeps the line first, then looks at it. A line that has arrived is kept even when the session is being cancelled.</summary>
    private async Task TakeAsync(InstrumentEvent received)
    {
        var line = new ReceivedLine(_lines.Count + 1, received.Line, received.Meaning);
        _lines.Add(line);
        await journal.AppendAsync(line, CancellationToken.None);
        if (received.Note is { } note)
        {
            display.Show(new BenchUpdate.Attention(received, note));
        }

        switch (received)
        {
            case InstrumentEvent.ReadingTaken { Reading: var reading } when _strip.Next is { } target:
                if (plan.Missing(reading.Densities) is { IsEmpty: false } missing)
                {
                    display.Show(new BenchUpdate.Attention(received, BenchMessages.MissingChannels(missing)));
                    return;
                }

                _strip = _strip.Accept(reading);
                display.Show(new BenchUpdate.Accepted(target, reading));
                if (RepeatCheck.Question(_strip, target) is { } question)
                {
                    display.Show(new BenchUpdate.Attention(received, question));
                }

                Prompt();
                break;
            case InstrumentEvent.ReadingTaken:
                display.Show(new BenchUpdate.Attention(received, BenchMessages.AlreadyComplete));
                break;
            case InstrumentEvent.BeyondRange or InstrumentEvent.InstrumentError or InstrumentEvent.UnmatchedLine:
                display.Show(new BenchUpdate.Attention(received, BenchMessages.Of(received)));
                break;
            default:
                display.Show(new BenchUpdate.Remark(received));
                break;
        }
    }

    private void Carry(BenchCommand command)
    {
        var now = time.GetUtcNow();
        try
        {
            (_strip, var done) = command switch
            {
                BenchCommand.Undo when _strip.CanUndo => (_strip.Undo(now), "Last step taken back."),
                BenchCommand.ReadPatchAgain when _strip.CanUndo => (_strip.ReadPatchAgain(now), "Read the patch again."),
                BenchCommand.LeaveOutRead { Reason: var why } when _strip.CanUndo => (_strip.LeaveOutLastRead(why, now), "Last read left out."),
                BenchCommand.LeaveOutPatch { Reason: var why } when !_strip.IsComplete => (_strip.LeaveOutPatch(why, now), "Patch left out."),
                BenchCommand.Keep => (_strip, ""),
                _ => (_strip, "There is nothing to do that to."),
            };
            if (done.Length > 0)
            {
                display.Show(new BenchUpdate.Done(done));
                Prompt();
            }
        }
        catch (ImpossibleValueException fault)
        {
            display.Show(new BenchUpdate.Done(fault.Message));
        }
    }

    private void Prompt() => display.Show(_strip.Next is { } target
        ? new BenchUpdate.Prompt(target, _strip)
        : new BenchUpdate.AllRead(_strip, keepAfter));

    private GuidedOutcome End(SessionOutcome outcome, string reason, Exception? fault = null) =>
        new(outcome, reason, _strip, _lines.ToImmutable(), fault);

    private static async Task PumpEventsAsync(IAsyncEnumerable<InstrumentEvent> events, ChannelWriter<Input> inputs, CancellationToken stop)
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
        public sealed record FromInstrument(InstrumentEvent Event) : Input;

        public sealed record FromUser(BenchCommand Command) : Input;

        public sealed record LinkChanged(LinkState State) : Input;

        public sealed record LinkLost(LinkException Fault) : Input;

        public sealed record TimeUp : Input;
    }
}
