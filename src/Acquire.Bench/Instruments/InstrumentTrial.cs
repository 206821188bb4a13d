using Acquire.Bench.Sessions;
using Acquire.Instruments.Captures;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Links;
using Acquire.Instruments.Monitoring;
using Acquire.Instruments.ProfileFiles;
using Acquire.Instruments.Profiles;

namespace Acquire.Bench.Instruments;

/// <summary>How long an instrument is tried.</summary>
/// <param name="Longest">The most time.</param>
/// <param name="Readings">How many readings are enough.</param>
public sealed record TrialBounds(TimeSpan Longest, int Readings);

/// <summary>How well a profile fits what came.</summary>
public enum ProfileFit
{
    /// <summary>Nothing came.</summary>
    Nothing,

    /// <summary>Every line is known to the profile, and there was a reading.</summary>
    Fits,

    /// <summary>There were readings, and lines that fit nothing.</summary>
    Partly,

    /// <summary>Every line is known to the profile, and none was a reading.</summary>
    NoReading,

    /// <summary>No reading came of what came.</summary>
    FitsNot,
}

/// <summary>What came of trying an instrument.</summary>
/// <param name="Events">What the profile makes of each line.</param>
/// <param name="Bytes">How many bytes came.</param>
/// <param name="Unfinished">What came behind the last line end, as far as it can be shown.</param>
/// <param name="Others">The profiles that fit instead, the one with most readings first; looked for where the own one does not fit.</param>
public sealed record TrialResult(
    ProfileFit Fit, ImmutableArray<InstrumentEvent> Events, ByteTally Bytes, string Unfinished, ImmutableArray<DeviceProfile> Others)
{
    public int Readings => Events.Count(e => e is InstrumentEvent.ReadingTaken);

    /// <summary>The finest step that a reading showed, in density; null without readings.</summary>
    public double? Step => Events.OfType<InstrumentEvent.ReadingTaken>()
        .SelectMany(e => e.Reading.Densities.Present.Select(c => e.Reading.Densities[c]!.Value.Resolution))
        .Cast<double?>().Min();
}

/// <summary>Tries an instrument: opens its port, looks at what comes, and says whether the profile fits. Nothing is kept.</summary>
public sealed class InstrumentTrial(ProfileLibrary profiles, ILinkOpener links, TimeProvider time)
{
    /// <summary>A port that sends without end is no instrument that waits to be read.</summary>
    private const int MostBytes = 64 * 1024;

    /// <param name="begun">Called when the port is open, with what is to be known of it.</param>
    /// <param name="show">Called with each line.</param>
    /// <param name="enough">Ends the trial with what came until then.</param>
    /// <exception cref="LinkException">The port cannot be opened, or broke before anything came.</exception>
    public async Task<TrialResult> RunAsync(
        InstrumentSetup setup, TrialBounds bounds, Action<ImmutableArray<string>> begun, Action<InstrumentEvent> show,
        CancellationToken enough, CancellationToken cancellationToken)
    {
        await using var link = await links.OpenAsync(setup.Address, setup.Settings, cancellationToken);
        begun(link.Notices);
        using var timeUp = new CancellationTokenSource(bounds.Longest, time);
        using var end = CancellationTokenSource.CreateLinkedTokenSource(enough, timeUp.Token, cancellationToken);
        var monitor = new LineMonitor(setup.Profile, time);
        var (chunks, events) = (ImmutableArray.CreateBuilder<CaptureChunk>(), ImmutableArray.CreateBuilder<InstrumentEvent>());
        try
        {
            await foreach (var received in monitor.ReadAllAsync(link, Keep, end.Token))
            {
                events.Add(received);
                show(received);
                if (events.Count(e => e is InstrumentEvent.ReadingTaken) >= bounds.Readings)
                {
                    break;
                }
            }
        }
        catch (OperationCanceledException) when (!cancellationToken.IsCancellationRequested)
        {
            // Time, a key and a flood are how a trial ends.
        }
        catch (LinkException) when (chunks.Count > 0)
        {
            // What came until then tells enough.
        }

        var fit = FitOf(events, monitor.Tally.Bytes > 0);
        return new TrialResult(
            fit,
            events.ToImmutable(),
            monitor.Tally,
            RawLine.Printable(monitor.UnfinishedLine),
            fit is ProfileFit.FitsNot or ProfileFit.Partly
                ? await OthersAsync(setup, chunks.ToImmutable(), cancellationToken)
                : []);

        void Keep(ReadOnlyMemory<byte> chunk)
        {
            chunks.Add(new CaptureChunk(time.GetUtcNow(), [.. chunk.Span]));
            if (monitor.Tally.Bytes > MostBytes)
            {
                end.Cancel();
            }
        }
    }

    /// <summary>How well a profile fits what its lines were taken for.</summary>
    public static ProfileFit FitOf(IReadOnlyCollection<InstrumentEvent> events, bool anything)
    {
        var (read, odd) = (events.Any(e => e is InstrumentEvent.ReadingTaken), events.Any(e => e is InstrumentEvent.UnmatchedLine));
        return (read, odd) switch
        {
            _ when !anything => ProfileFit.Nothing,
            (true, false) => ProfileFit.Fits,
            (true, true) => ProfileFit.Partly,
            (false, false) when events.Count > 0 => ProfileFit.NoReading,
            _ => ProfileFit.FitsNot,
        };
    }

    /// <summary>The other profiles that take every line, run over the same bytes with the same pauses.</summary>
    private async Task<ImmutableArray<DeviceProfile>> OthersAsync(
        InstrumentSetup setup, ImmutableArray<CaptureChunk> chunks, CancellationToken cancellationToken)
    {
        var capture = new Capture(CaptureKind.Timed, setup.Address.ToString(), null, null, chunks, null);
        var found = new List<(DeviceProfile Profile, int Readings)>();
        foreach (var other in profiles.List().Select(e => e.Profile).OfType<DeviceProfile>().Where(p => p.Hash != setup.Profile.Hash))
        {
            var events = await CaptureReplay.ReadAllAsync(capture, other, null, cancellationToken).ToListAsync(cancellationToken);
            if (FitOf(events, chunks.Length > 0) == ProfileFit.Fits)
            {
                found.Add((other, events.Count(e => e is InstrumentEvent.ReadingTaken)));
            }
        }

        return [.. found.OrderByDescending(f => f.Readings).Select(f => f.Profile)];
    }
}
