using Acquire.Instruments.Lines;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Simulation;

/// <summary>A densitometer with a person at it: reads the patches of simulated strips at some pace, and sends lines as a device profile
/// writes them. The same options give the same bytes. One caller at a time.</summary>
public sealed class SimulatedDensitometer
{
    private const int DefaultDecimals = 2;
    private const long ReadingStream = 1L << 32; // the strips themselves take the streams from 0
    private const long FaultStream = 2L << 32;

    private static readonly TimeSpan KeyBounce = TimeSpan.FromMilliseconds(150);
    private static readonly TimeSpan AfterError = TimeSpan.FromSeconds(1);

    private readonly FilmStory _story;
    private readonly ISimulatedPort _port;
    private readonly SimulatedDensitometerOptions _options;
    private readonly TimeProvider _time;
    private readonly LineWriter _writer;
    private readonly FaultyLine _line;
    private readonly SeededChance _scatter;
    private readonly SeededChance _mishaps;
    private readonly int _decimals;
    private readonly TimeSpan _afterLine;
    private readonly SimulatedOrders _orders;
    private int _listener;

    /// <summary>Sets the instrument up on a port.</summary>
    /// <param name="profile">How it writes its lines.</param>
    /// <param name="story">The film.</param>
    /// <param name="port">The port; it stays the caller's to dispose.</param>
    /// <param name="options">How the person works.</param>
    /// <param name="time">The clock of the pauses.</param>
    /// <exception cref="ArgumentException">An option is out of bounds, or it is to read only when told and its profile has no trigger.
    /// </exception>
    public SimulatedDensitometer(
        DeviceProfile profile, FilmStory story, ISimulatedPort port, SimulatedDensitometerOptions options, TimeProvider time)
    {
        options.Demand();
        if (options.OnlyWhenTold && profile.Commands.Trigger is null)
        {
            throw new ArgumentException($"Profile '{profile.Name}' has no trigger command, so that it cannot be told to read.");
        }

        (_story, _port, _options, _time) = (story, port, options, time);
        _writer = new LineWriter(profile);
        // Streams of their own, so that turning a fault on leaves the densities as they were.
        _scatter = new SeededChance(options.Seed, ReadingStream);
        _mishaps = new SeededChance(options.Seed, FaultStream);
        _line = new FaultyLine(port, options.Faults, new SeededChance(options.Seed, FaultStream + 1), time);
        _orders = new SimulatedOrders(profile.Commands, port, options.Faults.Deaf, new SeededChance(options.Seed, FaultStream + 2));
        _decimals = profile.Number.ShownDecimals ?? profile.Number.Decimals ?? DefaultDecimals;
        _afterLine = 2 * (profile.Framing.IdleGap ?? TimeSpan.Zero);
    }

    /// <summary>Number of the strip that lies on the instrument, from 0.</summary>
    public int Strip { get; private set; }

    /// <summary>Puts the next strip on the instrument.</summary>
    public void TakeNextStrip() => Strip++;

    /// <summary>Reads strips until their number is reached or the token is cancelled.</summary>
    /// <param name="progress">Is told each reading after it was sent.</param>
    /// <exception cref="ObjectDisposedException">The port was closed.</exception>
    public async Task RunAsync(IProgress<SimulatedReading>? progress, CancellationToken cancellationToken)
    {
        using var end = CancellationTokenSource.CreateLinkedTokenSource(cancellationToken);
        var listening = _orders.ListenAsync(end.Token);
        try
        {
            await ReadStripsAsync(progress, cancellationToken);
        }
        finally
        {
            await end.CancelAsync();
            await listening;
        }
    }

    private async Task ReadStripsAsync(IProgress<SimulatedReading>? progress, CancellationToken cancellationToken)
    {
        for (var done = 0; done < (_options.Strips ?? int.MaxValue); done++)
        {
            if (done > 0)
            {
                TakeNextStrip();
                await UntilNextAsync(_options.BetweenStrips, cancellationToken);
            }

            while (!await ReadStripAsync(progress, cancellationToken))
            {
                // A new listener: the strip is begun anew.
            }
        }
    }

    /// <summary>Reads the whole strip once a listener is there; false when another listener came before the end.</summary>
    /// <param name="progress">Is told each reading after it was sent.</param>
    public async Task<bool> ReadStripAsync(IProgress<SimulatedReading>? progress, CancellationToken cancellationToken)
    {
        await GreetAsync(cancellationToken);
        var listener = _listener;
        foreach (var (number, key) in _story.Patches.Select(p => p.Patch.Key).Index())
        {
            var skipped = _mishaps.Happens(_options.Faults.Skip);
            for (var read = 0; read < _options.ReadsPerPatch; read++)
            {
                if (!skipped)
                {
                    await UntilNextAsync(number + read > 0 ? _options.BetweenReadings : TimeSpan.Zero, cancellationToken);
                }

                await GreetAsync(cancellationToken);
                if (_options.RestartForNewListener && listener != _listener)
                {
                    return false;
                }

                var taken = skipped ? Passed(key) : await SendAsync(key, cancellationToken);
                progress?.Report(taken);
            }
        }

        return true;
    }

    /// <summary>Reads one patch of the strip that lies on the instrument, once a listener is there.</summary>
    /// <exception cref="ArgumentException">The strip has no such patch.</exception>
    public async Task<SimulatedReading> ReadPatchAsync(string patchKey, CancellationToken cancellationToken)
    {
        await GreetAsync(cancellationToken);
        return await SendAsync(patchKey, cancellationToken);
    }

    /// <summary>Until the person presses the key, or the port tells it to read.</summary>
    private async Task UntilNextAsync(TimeSpan pause, CancellationToken cancellationToken)
    {
        if (!_orders.Any)
        {
            await PauseAsync(pause, cancellationToken);
            return;
        }

        using var either = CancellationTokenSource.CreateLinkedTokenSource(cancellationToken);
        var told = _orders.ToldAsync(either.Token);
        var key = Task.Delay(_options.OnlyWhenTold ? Timeout.InfiniteTimeSpan : pause, _time, either.Token);
        // What it is asked is answered here, by the one who reads, so that no answer comes between the lines of a reading.
        while (await Task.WhenAny(key, told, _orders.AskedAsync(either.Token)) is var first && first != key && first != told)
        {
            if (_orders.TakeQuestion())
            {
                _ = await SendAsync(_writer.WriteAnswer(_options.Identity), cancellationToken);
            }
        }

        await either.CancelAsync();
        cancellationToken.ThrowIfCancellationRequested();
    }

    // What is sent in the moment between opening and setting a port is lost to its listener, so a new one is given time.
    private async Task GreetAsync(CancellationToken cancellationToken)
    {
        await _port.WaitForListenerAsync(cancellationToken);
        while (_listener != _port.Arrivals)
        {
            _listener = _port.Arrivals;
            await PauseAsync(_options.BeforeFirst, cancellationToken);
            await _port.WaitForListenerAsync(cancellationToken);
        }
    }

    private ChannelDensities Look(string patchKey) => _story.Strip(_options.Seed, Strip).Read(patchKey, _scatter, _decimals);

    private SimulatedReading Passed(string patchKey) => new(Strip, patchKey, Look(patchKey), ReadingFaults.Skipped);

    private async Task<SimulatedReading> SendAsync(string patchKey, CancellationToken cancellationToken)
    {
        // One reading answers all that was told until now, as a key that is pressed in the middle of a reading does nothing.
        _orders.Begun();
        var densities = Look(patchKey);
        var (lines, faults) = LinesOf(patchKey, densities);
        if (_mishaps.Happens(_options.Faults.Error) && _writer.WriteError() is { IsEmpty: false } error)
        {
            faults |= ReadingFaults.ErrorFirst | await SendAsync(error, cancellationToken);
            await PauseAsync(AfterError, cancellationToken);
        }

        faults |= await SendAsync(lines, cancellationToken);
        if (_mishaps.Happens(_options.Faults.Repeat))
        {
            await PauseAsync(KeyBounce, cancellationToken);
            faults |= ReadingFaults.Repeated | await SendAsync(lines, cancellationToken);
        }

        return new SimulatedReading(Strip, patchKey, densities, faults);
    }

    private (ImmutableArray<byte[]> Lines, ReadingFaults Faults) LinesOf(string patchKey, ChannelDensities densities)
    {
        var isBeyond = string.Equals(patchKey, _options.Faults.BeyondRangePatch, StringComparison.OrdinalIgnoreCase);
        var channel = _writer.Channels.Contains(Channel.Blue) ? Channel.Blue : _writer.Channels.LastOrDefault();
        return isBeyond && _writer.WriteBeyondRange(densities, channel) is { IsEmpty: false } beyond
            ? (beyond, ReadingFaults.BeyondRange)
            : (_writer.WriteReading(densities), ReadingFaults.None);
    }

    private async Task<ReadingFaults> SendAsync(ImmutableArray<byte[]> lines, CancellationToken cancellationToken)
    {
        var faults = ReadingFaults.None;
        foreach (var line in lines)
        {
            faults |= await _line.SendAsync(line, cancellationToken);
            await PauseAsync(_afterLine, cancellationToken);
        }

        return faults;
    }

    private Task PauseAsync(TimeSpan pause, CancellationToken cancellationToken) => Task.Delay(pause, _time, cancellationToken);
}

/// <summary>What went wrong with a simulated reading.</summary>
[Flags]
public enum ReadingFaults
{
    None = 0,

    /// <summary>It was sent twice.</summary>
    Repeated = 1,

    /// <summary>It was not sent: the patch was passed over.</summary>
    Skipped = 2,

    /// <summary>A bit of it was flipped.</summary>
    Garbled = 4,

    /// <summary>A line of it came in two pieces.</summary>
    Split = 8,

    /// <summary>An error was reported first.</summary>
    ErrorFirst = 16,
    BeyondRange = 32,
}

/// <summary>One reading that a simulated densitometer took.</summary>
/// <param name="Strip">Number of the strip, from 0.</param>
/// <param name="PatchKey">The patch.</param>
/// <param name="Densities">What the display showed.</param>
/// <param name="Faults">What went wrong.</param>
public sealed record SimulatedReading(int Strip, string PatchKey, ChannelDensities Densities, ReadingFaults Faults);

/// <summary>Sends lines through a port with the faults of a bad cable.</summary>
internal sealed class FaultyLine(ISimulatedPort port, SimulatedFaults faults, SeededChance chance, TimeProvider time)
{
    /// <summary>Sends one line, and says what went wrong with it.</summary>
    public async ValueTask<ReadingFaults> SendAsync(byte[] line, CancellationToken cancellationToken)
    {
        var happened = ReadingFaults.None;
        if (line.Length > 0 && chance.Happens(faults.Garble))
        {
            line = [.. line];
            line[chance.Below(line.Length)] ^= (byte)(1 << chance.Below(8));
            happened |= ReadingFaults.Garbled;
        }

        if (line.Length > 1 && chance.Happens(faults.Split))
        {
            var cut = 1 + chance.Below(line.Length - 1);
            await port.WriteAsync(line.AsMemory(0, cut), cancellationToken);
            await Task.Delay(faults.SplitGap, time, cancellationToken);
            await port.WriteAsync(line.AsMemory(cut), cancellationToken);
            return happened | ReadingFaults.Split;
        }

        await port.WriteAsync(line, cancellationToken);
        return happened;
    }
}
