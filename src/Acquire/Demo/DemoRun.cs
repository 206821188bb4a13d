using Acquire.Bench.Lots;
using Acquire.Bench.Readings;
using Acquire.Bench.Sessions;
using Acquire.Formats.ProcessSheets;
using Acquire.Instruments.Links;
using Acquire.Instruments.ProfileFiles;
using Acquire.Instruments.Profiles;
using Acquire.Instruments.Simulation;
using Acquire.Rendering.Strips;
using Microsoft.Extensions.Logging.Abstractions;
using Channel = System.Threading.Channels.Channel;

namespace Acquire.Demo;

/// <summary>
/// The main job once, from bytes on a serial line to an exported file: a simulated densitometer on a pseudo-terminal is read by the same
/// bench that reads a real one.
/// </summary>
internal sealed class DemoRun(Surroundings surroundings, AcquireStore store, LotBook lots)
{
    private static readonly SimulatedDensitometerOptions Pace = new()
    {
        Seed = DemoScenario.Seed,
        ReadsPerPatch = DemoScenario.Reads,
        BeforeFirst = TimeSpan.FromMilliseconds(300),
        BetweenReadings = TimeSpan.FromMilliseconds(60),
    };

    private readonly DeviceProfile _profile = new ProfileLibrary().Find(DemoScenario.Profile);
    private readonly ReadingDesk _desk = new(store, lots, new LinkOpener(surroundings.Time), surroundings.Time, NullLogger.Instance);

    /// <summary>Reads the reference strip and the strips of the scenario, and writes a table of each.</summary>
    public async Task RunAsync(CancellationToken cancellationToken)
    {
        await store.AddLotAsync(DemoScenario.Lot(ShippedSheets.Get("c41")), cancellationToken);
        await using var port = SimulatedPorts.Create(null, surroundings.Time);
        surroundings.Error.Line($"A simulated densitometer is on {port.Address}, profile {_profile.Name}.");

        surroundings.Error.Line($"Reading the reference strip of lot {DemoScenario.LotCode}, {DemoScenario.Reads} reads a patch:");
        var reference = await WithInstrumentAsync(port, FilmStories.Reference, 0, (terms, seat, token) =>
            _desk.ReadAsync(new ReferenceRequest(DemoScenario.LotCode, "first reading of the lot"), terms, seat, token), cancellationToken);
        _ = Kept(reference);

        foreach (var (index, strip) in DemoScenario.Strips.Index())
        {
            surroundings.Error.Line($"Reading a strip: {strip.Line}, {strip.Note}:");
            var result = await WithInstrumentAsync(port, strip.Story, index + 1, (terms, seat, token) => _desk.ReadAsync(
                new StripRequest
                {
                    Lot = DemoScenario.LotCode,
                    Tags = new StripTags { Line = strip.Line, Bottle = strip.Bottle, Note = strip.Note },
                },
                terms,
                seat,
                token), cancellationToken);
            var kept = Kept(result);
            StripReport.Write(surroundings.Out, kept.Record, kept.Judgement, surroundings.Time, json: false);
            surroundings.Out.Line("");
        }
    }

    /// <summary>Reads one strip while somebody presses the key of the simulated instrument.</summary>
    private async Task<T> WithInstrumentAsync<T>(
        ISimulatedPort port,
        FilmStory story,
        int number,
        Func<ReadingTerms, BenchSeat, CancellationToken, Task<T>> read,
        CancellationToken cancellationToken)
    {
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(cancellationToken);
        var densitometer = new SimulatedDensitometer(_profile, story, port, Pace with { Seed = Pace.Seed + number }, surroundings.Time);
        var person = densitometer.ReadStripAsync(null, stop.Token);
        var noCommands = Channel.CreateBounded<BenchCommand>(1);
        noCommands.Writer.Complete();
        var terms = new ReadingTerms(new InstrumentSetup(port.Address, _profile, _profile.Link), DemoScenario.Reads, DemoScenario.Reader);
        var seat = new BenchSeat(new DemoDisplay(surroundings.Error), noCommands.Reader) { GiveUpAfter = TimeSpan.Zero };
        try
        {
            return await read(terms, seat, cancellationToken);
        }
        finally
        {
            // The port is used for the next strip, so nobody may still press keys of this one; its cancellation is no fault.
            await stop.CancelAsync();
            await ((Task)person).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        }
    }

    private static TKept Kept<TKept>(ReadingResult<TKept> result)
        where TKept : KeptReading
    {
        var session = result.Session;
        if (session.Outcome.Fault is { } fault)
        {
            throw fault;
        }

        return result.Kept ?? throw new OperationCanceledException(session.Outcome.Reason);
    }
}

/// <summary>Shows a guided reading in short: a line a patch.</summary>
internal sealed class DemoDisplay(IAnsiConsole console) : IBenchDisplay
{
    private readonly List<ChannelDensities> _reads = [];

    public void Show(BenchUpdate update)
    {
        switch (update)
        {
            case BenchUpdate.Accepted { Target: var target, Densities: var densities }:
                _reads.Add(densities);
                if (target.Read == target.Of)
                {
                    console.Line($"  {target.Patch.Name,-7} {string.Join(" | ", _reads)}");
                    _reads.Clear();
                }

                break;
            case BenchUpdate.Attention { Message: var message }:
                console.Line($"  ? {message}");
                break;
            case BenchUpdate.Question { Text: var text }:
                console.Line($"  ? {text}");
                break;
            default:
                break;
        }
    }
}
