using Acquire.Bench.Instruments;
using Acquire.Bench.Sessions;

namespace Acquire.Commands.Instruments;

/// <summary>How a command is told which instrument is meant; where there is only one, nothing need be said.</summary>
internal sealed class InstrumentOptions
{
    private readonly Option<string?> _instrument = Given.Option<string?>(
        "--instrument", "NAME", "The instrument, as 'acquire instrument list' shows it; need not be said where only one is in use.");

    private readonly Option<string?> _port = Given.Option<string?>(
        "--port", "PORT", "Where it is this once: a path such as /dev/serial/by-id/… or /dev/ttyUSB0, COM3, tcp:HOST:PORT, or "
            + "rfc2217:HOST:PORT.");

    private readonly Option<string?> _profile = Given.Option<string?>(
        "--profile", "PROFILE", "Its device profile, for one that was not added: a name that 'acquire profile list' shows, or a file.");

    private readonly Option<int?> _baud = Common.Baud();

    public void AddTo(Command command)
    {
        foreach (var option in (Option[])[_instrument, _port, _profile, _baud])
        {
            command.Options.Add(option);
        }
    }

    public string? Name(ParseResult parsed) => parsed.GetValue(_instrument);

    public string? Port(ParseResult parsed) => parsed.GetValue(_port);

    public string? Profile(ParseResult parsed) => parsed.GetValue(_profile);

    public InstrumentChoice Choice(ParseResult parsed) => new(Name(parsed), Port(parsed), Profile(parsed), parsed.GetValue(_baud));

    /// <summary>Whether anything is said of it.</summary>
    public bool IsSaid(ParseResult parsed) => Choice(parsed) is not { Name: null, Port: null, Profile: null };

    /// <summary>The instrument that is meant; what is to be known of the choice goes to standard error.</summary>
    public static async Task<InstrumentSetup> SetupAsync(
        ParseResult parsed, InstrumentChoice choice, AcquireStore store, Surroundings surroundings, CancellationToken cancellationToken)
    {
        var chosen = await Book(parsed, store, surroundings).ChooseAsync(choice, cancellationToken);
        if (chosen.Notice is { } notice)
        {
            surroundings.Error.Line(notice);
        }

        return chosen.Setup;
    }

    public static InstrumentBook Book(ParseResult parsed, AcquireStore store, Surroundings surroundings) =>
        new(store, Common.Profiles(parsed), surroundings.Time);
}
