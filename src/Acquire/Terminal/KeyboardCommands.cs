using System.Text;
using System.Threading.Channels;
using Acquire.Bench.Sessions;

namespace Acquire.Terminal;

/// <summary>
/// Turns keys into bench commands. Keys are polled, since a blocked read of the console cannot be ended.
/// </summary>
internal sealed class KeyboardCommands(IAnsiConsole console, TimeProvider time)
{
    /// <summary>The keys, as the prompt shows them.</summary>
    public const string Help = "u undo · r read patch again · x leave out last read · l leave out patch · q cancel · y n answer a question";

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
