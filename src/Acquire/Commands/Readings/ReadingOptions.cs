using Acquire.Bench.Instruments;
using Acquire.Bench.Lots;
using Acquire.Bench.Readings;
using Acquire.Bench.Sessions;
using Acquire.Commands.Instruments;
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
    private readonly InstrumentOptions _instrument = new();
    private readonly Option<string?> _port = Given.Option<string?>("--port", "PORT", "The instrument's port, where it is another one now.");
    private readonly Option<int> _reads;
    private readonly Option<string?> _by = Common.By();
    private readonly Option<double?> _giveUp = GiveUp.Option();
    private readonly Option<bool> _noBell = Common.NoBell();
    private readonly Option<bool> _json = Common.Json();

    /// <param name="reads">How many reads of each patch are usual.</param>
    public ReadingOptions(Surroundings surroundings, int reads = 3) => (_surroundings, _reads) = (surroundings, Common.Reads(reads));

    public void AddTo(Command command)
    {
        _instrument.AddTo(command);
        foreach (var option in (Option[])[_reads, _by, _giveUp, _noBell, _json])
        {
            command.Options.Add(option);
        }
    }

    /// <summary>Those of a reading that was begun before; the rest was settled then.</summary>
    public void AddToResume(Command command)
    {
        foreach (var option in (Option[])[_port, _giveUp, _noBell, _json])
        {
            command.Options.Add(option);
        }
    }

    public InstrumentOptions Instrument => _instrument;

    /// <summary>Where the instrument of a reading is now that was begun before; null for where it was.</summary>
    public string? PortNow(ParseResult parsed) => parsed.GetValue(_port);

    /// <summary>How many reads the user names; null where none are named.</summary>
    public int? ReadsSaid(ParseResult parsed) => parsed.GetResult(_reads) is { Implicit: false } ? parsed.GetValue(_reads) : null;

    public bool Json(ParseResult parsed) => parsed.GetValue(_json);

    public string By(ParseResult parsed) => parsed.GetValue(_by) ?? _surroundings.User;

    /// <summary>With what is read, how often and by whom.</summary>
    /// <exception cref="BenchException">It is not clear which instrument is meant.</exception>
    public Task<ReadingTerms> TermsAsync(ParseResult parsed, ReadingPlace place, CancellationToken cancellationToken) =>
        TermsAsync(parsed, _instrument.Choice(parsed), place, cancellationToken);

    /// <summary>The same with an instrument that was asked for.</summary>
    public async Task<ReadingTerms> TermsAsync(
        ParseResult parsed, InstrumentChoice choice, ReadingPlace place, CancellationToken cancellationToken) => new(
        await InstrumentOptions.SetupAsync(parsed, choice, place.Store, _surroundings, cancellationToken),
        parsed.GetValue(_reads),
        By(parsed));

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
        var own = new ReadingDesk(
            store, lots, Common.Links(parsed, _surroundings, logs), _surroundings.Time, logs.CreateLogger<ReconnectingLink>());
        using var service = AttachedDesk.Find(DataFolder.Resolve(parsed.GetValue(Common.Data)), store, lots, own, _surroundings.Time);
        IReadingDesk desk = (IReadingDesk?)service ?? own;
        // Taken when the reading begins: until then the keyboard belongs to questions.
        using var seat = new LateSeat(() => new TerminalSeat(
            _surroundings,
            !parsed.GetValue(_noBell),
            GiveUp.After(parsed.GetValue(_giveUp), _surroundings),
            Common.NameOf(parsed),
            cancellationToken));
        // The store is opened before the port, so that nobody reads a strip that then cannot be kept.
        var (session, kept) = await read(new ReadingPlace(store, lots, desk, seat.Take));
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
/// <param name="TakeSeat">Sits down: from then on keys are commands of the reading.</param>
internal sealed record ReadingPlace(AcquireStore Store, LotBook Lots, IReadingDesk Desk, Func<BenchSeat> TakeSeat);

/// <summary>A seat that is taken when the reading begins.</summary>
internal sealed class LateSeat(Func<TerminalSeat> sit) : IDisposable
{
    private TerminalSeat? _taken;

    public BenchSeat Take() => (_taken ??= sit()).Seat;

    public void Dispose() => _taken?.Dispose();
}
