using System.Text;
using System.Threading.Channels;
using Acquire.Bench.Sessions;
using Channel = System.Threading.Channels.Channel;

namespace Acquire.Terminal;

/// <summary>Turns keys into bench commands. Keys are polled, since a blocked read of the console cannot be ended.</summary>
internal sealed class KeyboardCommands(IAnsiConsole console, TimeProvider time)
{
    /// <summary>The keys, as the prompt shows them.</summary>
    public const string Help = "u undo · r read patch again · x leave out last read · l leave out patch · q cancel · y n answer a question "
        + "· t trigger a reading";

    private static readonly TimeSpan Poll = TimeSpan.FromMilliseconds(40);

    public async Task RunAsync(ChannelWriter<BenchCommand> commands, CancellationToken stop)
    {
        try
        {
            while (true)
            {
                var key = await KeyAsync(stop);
                if (await CommandAsync(key, stop) is { } command)
                {
                    await commands.WriteAsync(command, stop);
                }
            }
        }
        catch (OperationCanceledException)
        {
            // The session has ended.
        }
        finally
        {
            commands.TryComplete();
        }
    }

    private async Task<BenchCommand?> CommandAsync(ConsoleKeyInfo key, CancellationToken stop)
    {
        switch (char.ToLowerInvariant(key.KeyChar))
        {
            case 'u':
                return new BenchCommand.Undo();
            case 'r':
                return new BenchCommand.ReadPatchAgain();
            case 'x':
                return await ReasonAsync("Why is the last read left out?", stop) is { } read ? new BenchCommand.LeaveOutRead(read) : null;
            case 'l':
                return await ReasonAsync("Why is this patch left out?", stop) is { } patch ? new BenchCommand.LeaveOutPatch(patch) : null;
            case 'y':
                return new BenchCommand.Yes();
            case 'n':
                return new BenchCommand.No();
            case 't':
                return new BenchCommand.Trigger();
            case 'q':
                return new BenchCommand.Cancel();
            case '\r' or '\n':
                return new BenchCommand.Keep();
            default:
                console.Line($"  {Help}");
                return null;
        }
    }

    /// <summary>A line of text; null when it is empty or Escape was pressed.</summary>
    private async Task<string?> ReasonAsync(string question, CancellationToken stop)
    {
        console.Write($"  {question} (Enter when done, Esc to go back) ");
        var text = new StringBuilder();
        while (true)
        {
            var key = await KeyAsync(stop);
            switch (key.Key)
            {
                case ConsoleKey.Enter:
                    console.Line("");
                    return text.Length > 0 ? text.ToString() : null;
                case ConsoleKey.Escape:
                    console.Line("");
                    return null;
                case ConsoleKey.Backspace when text.Length > 0:
                    text.Length--;
                    console.Write("\b \b");
                    break;
                default:
                    if (!char.IsControl(key.KeyChar))
                    {
                        text.Append(key.KeyChar);
                        console.Write(key.KeyChar.ToString());
                    }

                    break;
            }
        }
    }

    private async Task<ConsoleKeyInfo> KeyAsync(CancellationToken stop)
    {
        while (!Console.KeyAvailable)
        {
            await Task.Delay(Poll, time, stop);
        }

        return Console.ReadKey(intercept: true);
    }
}

/// <summary>A person at the terminal: the display on standard error, and the keyboard where there is one.</summary>
internal sealed class TerminalSeat : IDisposable
{
    /// <summary>How long a step may still be taken back after the last read.</summary>
    private static readonly TimeSpan Grace = TimeSpan.FromSeconds(5);

    private readonly CancellationTokenSource _stop;

    public TerminalSeat(Surroundings surroundings, bool bell, TimeSpan giveUpAfter, string program, CancellationToken cancellationToken)
    {
        _stop = CancellationTokenSource.CreateLinkedTokenSource(cancellationToken);
        var commands = Channel.CreateBounded<BenchCommand>(16);
        Seat = new BenchSeat(new TerminalDisplay(surroundings.Error, bell, surroundings.HasKeyboard, surroundings.Time), commands.Reader)
        {
            // Without a keyboard nobody can take a step back, so that what was read is kept at once.
            KeepAfter = surroundings.HasKeyboard ? Grace : null,
            GiveUpAfter = giveUpAfter,
            Program = program,
        };
        if (surroundings.HasKeyboard)
        {
            _ = new KeyboardCommands(surroundings.Error, surroundings.Time).RunAsync(commands.Writer, _stop.Token);
        }
        else
        {
            commands.Writer.Complete();
        }
    }

    public BenchSeat Seat { get; }

    public void Dispose()
    {
        _stop.Cancel();
        _stop.Dispose();
    }
}
