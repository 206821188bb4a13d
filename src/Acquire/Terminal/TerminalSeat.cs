using Acquire.Bench.Sessions;
using Channel = System.Threading.Channels.Channel;

namespace Acquire.Terminal;

/// <summary>A person at the terminal: the display on standard error, and the keyboard where there is one.</summary>
internal sealed class TerminalSeat : IDisposable
{
    /// <summary>How long a step may still be taken back after the last read.</summary>
    private static readonly TimeSpan Grace = TimeSpan.FromSeconds(5);

    /// <summary>How long before a lot expires the user is told to run the crossover (common practice, no source).</summary>
    private const int CrossoverDays = 30;

    private readonly CancellationTokenSource _stop;

    public TerminalSeat(Surroundings surroundings, bool bell, CancellationToken cancellationToken)
    {
        _stop = CancellationTokenSource.CreateLinkedTokenSource(cancellationToken);
        var commands = Channel.CreateBounded<BenchCommand>(16);
        Seat = new BenchSeat(new TerminalDisplay(surroundings.Error, bell, surroundings.HasKeyboard), commands.Reader);
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

    /// <summary>With a keyboard the last step can still be taken back; without one the strip is kept at once.</summary>
    public static TimeSpan? GraceFor(Surroundings surroundings) => surroundings.HasKeyboard ? Grace : null;

    /// <summary>Says so when the lot is past its expiry; reading goes on, since the user may want to know how the strips have kept.</summary>
    public static void WarnOfExpiry(Surroundings surroundings, StripLot lot)
    {
        if (lot.Expires is not { } expires)
        {
            return;
        }

        var last = expires.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
        var today = DateOnly.FromDateTime(surroundings.Time.GetLocalNow().DateTime);
        if (lot.IsExpiredOn(today))
        {
            surroundings.Error.Line(
                $"Lot {lot.Code} expired on {last}: old strips read high in D-min and low in LD. Do not blame the process for that.");
        }
        else if (expires.DayNumber - today.DayNumber is var days && days <= CrossoverDays)
        {
            surroundings.Error.Line(
                $"Lot {lot.Code} expires on {last}, {(days == 0 ? "today" : $"in {Numbers.Count(days, "day")}")}. Run the crossover to the next lot while strips are left: "
                + $"acquire lot crossover {lot.Code} NEXT");
        }
    }

    public void Dispose()
    {
        _stop.Cancel();
        _stop.Dispose();
    }
}
