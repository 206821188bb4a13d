using Acquire.Bench.Lots;
using Acquire.Bench.Readings;
using Acquire.Bench.Sessions;
using Acquire.Instruments.Links;
using Acquire.Rendering.Readings;
using Acquire.Rendering.Sessions;
using Acquire.Terminal;
using Microsoft.Extensions.Logging;

namespace Acquire.Commands.Readings;

/// <summary>The options of every command that reads at the instrument, and the reading itself: the command says what for.</summary>
internal sealed class ReadingOptions
{
    private readonly Surroundings _surroundings;
    private readonly Option<string> _port = Common.Port();
    private readonly Option<string> _profile = Common.Profile();
    private readonly Option<int?> _baud = Common.Baud();
    private readonly Option<int> _reads;
    private readonly Option<string?> _by = Common.By();
    private readonly Option<double?> _giveUp = GiveUp.Option();
    private readonly Option<bool> _noBell = Common.NoBell();
    private readonly Option<bool> _json = Common.Json();

    /// <param name="reads">How many reads of each patch are usual.</param>
    /// <param name="required">Whether the command does nothing without an instrument.</param>
    public ReadingOptions(Surroundings surroundings, int reads = 3, bool required = false)
    {
        (_surroundings, _reads) = (surroundings, Common.Reads(reads));
        (_port.Required, _profile.Required) = (required, required);
    }

    public void AddTo(Command command)
    {
        foreach (var option in (Option[])[_port, _profile, _baud, _reads, _by, _giveUp, _noBell, _json])
        {
            command.Options.Add(option);
        }
    }

    /// <summary>Those of a reading that was begun before; the rest was settled then.</summary>
    public void AddToResume(Command command)
    {
        _port.Description = "The instrument's port, where it is another one now.";
        foreach (var option in (Option[])[_port, _giveUp, _noBell, _json])
        {
            command.Options.Add(option);
        }
    }

    public string? Port(ParseResult parsed) => parsed.GetValue(_port);

    public string? Profile(ParseResult parsed) => parsed.GetValue(_profile);

    /// <summary>How many reads the user names; null where none are named.</summary>
    public int? ReadsSaid(ParseResult parsed) => parsed.GetResult(_reads) is { Implicit: false } ? parsed.GetValue(_reads) : null;

    public bool Json(ParseResult parsed) => parsed.GetValue(_json);

    public string By(ParseResult parsed) => parsed.GetValue(_by) ?? _surroundings.User;

    /// <summary>With what is read, how often and by whom; both port and profile are named.</summary>
    public ReadingTerms Terms(ParseResult parsed)
    {
        var address = LinkAddress.Parse(parsed.GetRequiredValue(_port));
        var profile = Common.Profiles(parsed).Find(parsed.GetRequiredValue(_profile));
        var settings = parsed.GetValue(_baud) is { } rate ? profile.Link with { Baud = rate } : profile.Link;
        return new ReadingTerms(new InstrumentSetup(address, profile, settings), parsed.GetValue(_reads), By(parsed));
    }

    /// <summary>Reads, and writes what was kept or why nothing was.</summary>
    public Task<int> ReadAsync<TKept>(
        ParseResult parsed, Func<ReadingPlace, Task<ReadingResult<TKept>>> read, CancellationToken cancellationToken)
        where TKept : KeptReading => ReadAsync(parsed, read, kept => Task.FromResult(Kept(parsed, kept)), cancellationToken);

    /// <summary>The same where the command has more to write than the others.</summary>
    public async Task<int> ReadAsync<TKept>(
        ParseResult parsed,
        Func<ReadingPlace, Task<ReadingResult<TKept>>> read,
        Func<TKept, Task<int>> write,
        CancellationToken cancellationToken)
        where TKept : KeptReading
    {
        await using var store = await Common.OpenStoreAsync(parsed, _surroundings, cancellationToken);
        using var logs = Common.Logs(parsed);
        var lots = Common.Lots(parsed, store, _surroundings);
        var desk = new ReadingDesk(
            store, lots, Common.Links(parsed, _surroundings, logs), _surroundings.Time, logs.CreateLogger<ReconnectingLink>());
        using var seat = new TerminalSeat(
            _surroundings,
            !parsed.GetValue(_noBell),
            GiveUp.After(parsed.GetValue(_giveUp), _surroundings),
            Common.NameOf(parsed),
            cancellationToken);
        // The store is opened before the port, so that nobody reads a strip that then cannot be kept.
        var (session, kept) = await read(new ReadingPlace(store, lots, desk, seat.Seat));
        if (kept is null)
        {
            return SessionReport.Incomplete(_surroundings, session);
        }

        SessionReport.Completed(_surroundings, session);
        return await write(kept);
    }

    /// <summary>Writes what was kept, however it came to be read, and gives the exit code.</summary>
    public int Kept(ParseResult parsed, KeptReading kept)
    {
        KeptReport.Write(_surroundings, kept, Json(parsed));
        return kept.Holds ? ExitCode.Done : ExitCode.OutOfControl;
    }
}

/// <summary>What a command that reads has at hand.</summary>
internal sealed record ReadingPlace(AcquireStore Store, LotBook Lots, ReadingDesk Desk, BenchSeat Seat);
