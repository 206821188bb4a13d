using Acquire.Bench.Sessions;
using Channel = System.Threading.Channels.Channel;

namespace Acquire.Terminal;

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
