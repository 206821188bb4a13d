using Acquire.Instruments.Captures;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Links;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Learning;

/// <summary>Learning at settings that are known: gathers readings until a profile can be had, and has it proved.</summary>
internal sealed class LiveSession(
    ILinkOpener opener, ILearningDesk desk, TimeProvider time, LiveRequest request, OpenLine line) : IAsyncDisposable
{
    /// <summary>A rest that comes later than this is rather another press.</summary>
    private static readonly TimeSpan LateRest = TimeSpan.FromSeconds(5);
    private const double Margin = 1.5;

    private readonly DeskTalk _talk = new(desk);
    private readonly ShownQuestion _question = new(desk, request.Channels);
    private readonly List<LiveReading> _readings = [];
    private OpenLine _line = line;
    private TimeSpan _quiet = request.Quiet;

    /// <summary>Asks about the first burst; gives whether it is text at all.</summary>
    public async Task<bool> BeginAsync(Burst first, CancellationToken cancellationToken)
    {
        if (request.CanSet)
        {
            _talk.Say($"Text at {LinkWords.Of(_line.Settings)}.");
        }

        return await TakeAsync(first, mayBeUnreadable: request.CanSet, cancellationToken);
    }

    /// <summary>Runs to a profile that is proved, or to the reasons why there is none.</summary>
    public async Task<LearningResult> RunAsync(CancellationToken cancellationToken)
    {
        while (true)
        {
            if (_readings.Count >= 2)
            {
                var result = Learn();
                if (result is LearningResult.Learned learned)
                {
                    if (await IsProvedAsync(learned, cancellationToken))
                    {
                        return learned;
                    }

                    continue;
                }

                if (result is LearningResult.Declined declined && !GoesOn(declined))
                {
                    return declined;
                }
            }

            _talk.Say(
                $"Place {(_readings.Count == 0 ? "a" : "another")} patch and press the instrument's key once (reading "
                + $"{_readings.Count + 1}).");
            _ = await TakeAsync(await WaitAsync(cancellationToken), mayBeUnreadable: false, cancellationToken);
        }
    }

    public ValueTask DisposeAsync() => _line.DisposeAsync();

    private LearningResult Learn() => ProfileLearner.Learn(LearningInput.Timed(
        _readings.SelectMany(r => r.Burst.Chunks), request.CanSet ? _line.Settings : null,
        [.. _readings.Select(r => r.Shown)], request.Channels, request.Name));

    /// <summary>Says why there is no profile yet, unless enough has been read.</summary>
    private bool GoesOn(LearningResult.Declined declined)
    {
        foreach (var reason in declined.Reasons.Where(_ => _readings.Count < request.MostReadings))
        {
            _talk.Say(reason);
        }

        if (_readings.Count < request.MostReadings)
        {
            _talk.Say(
                "One more patch may settle it. If something was mistyped, answer redo to the next question: the readings so far are "
                + "forgotten then.");
        }

        return _readings.Count < request.MostReadings;
    }

    private async Task<Burst> WaitAsync(CancellationToken cancellationToken)
    {
        while (true)
        {
            if (await _line.Reader.NextAsync(request.Patience, _quiet, cancellationToken) is not { } burst)
            {
                _ = await _talk.AskAsync(
                    $"Nothing came within {request.Patience.TotalSeconds:0.#} s. Enter waits again, q stops.", cancellationToken);
            }
            else if (burst.IsEndless)
            {
                throw new DeclinedException(
                    "The instrument sends without a pause now, so that no reading can be told from the next. Set it to send once for each "
                    + "press of its key.");
            }
            else if (burst.Bytes.Length > 2 || BurstLook.At(burst.Bytes.AsSpan()).TextShare > 0)
            {
                return burst;
            }
        }
    }

    /// <summary>Asks about a burst and keeps it with the answer; gives false when it is no text.</summary>
    private async Task<bool> TakeAsync(Burst burst, bool mayBeUnreadable, CancellationToken cancellationToken)
    {
        var answer = await _question.AskAsync(burst, mayBeUnreadable, cancellationToken);
        while (answer is ShownAnswer.Redo)
        {
            _readings.Clear();
            answer = await _question.AskAsync(burst, mayBeUnreadable, cancellationToken);
        }

        // Bytes that come while the user types belong to this press, too late, or to another one; nothing tells which.
        var late = await _line.Reader.SinceAsync(_quiet, cancellationToken);
        if (late is not null)
        {
            _talk.Show(late);
            _talk.Say(
                "This came while you were typing, so it is not certain what belongs together: the reading is forgotten. Press the key once "
                + "for each patch.");
            // A late rest of the same press means that this instrument pauses longer within a reading: its end is waited for longer.
            var rest = late.Chunks[0].At - burst.Chunks[^1].At;
            _quiet = rest <= LateRest && rest * Margin > _quiet ? rest * Margin : _quiet;
        }
        else if (answer is ShownAnswer.Values { Shown: var shown })
        {
            _readings.Add(new LiveReading(burst, shown));
        }

        return answer is not ShownAnswer.Unreadable;
    }

    /// <summary>Has one more reading read with the profile and confirmed; one that it does not read is one more to learn from.</summary>
    /// <exception cref="DeclinedException">The reading is not what the display shows.</exception>
    private async Task<bool> IsProvedAsync(LearningResult.Learned learned, CancellationToken cancellationToken)
    {
        // The reading that proves must be one that was not learned from, at the settings that the profile will open the port with.
        await SetAsync(learned.Profile.Link, cancellationToken);
        _talk.Say("A profile is made. To prove it, place one more patch, another than before, and press the instrument's key once.");
        var burst = await WaitAsync(cancellationToken);
        var proof = ProofReading.Of(learned.Profile, burst);
        if (proof.Densities is { } densities)
        {
            var answer = await _talk.AskAsync($"{densities}: is this what the display shows? [Y/n]", cancellationToken);
            return answer.Length == 0 || DeskTalk.Is(answer, "y", "yes")
                ? true
                : throw new DeclinedException(
                    $"The profile read {densities} from '{string.Join(" ⏎ ", burst.Lines())}', which is not what the display shows. "
                    + "Nothing was written. Begin again, with patches on which the channels differ clearly; see that the display and the "
                    + "line show the same measurement.");
        }

        _talk.Say($"The profile does not read this one yet: {proof.Trouble}");
        if (_readings.Count >= request.MostReadings)
        {
            throw new DeclinedException(
                $"After {_readings.Count} readings there are still lines that the profile does not read: {proof.Trouble}");
        }

        _ = await TakeAsync(burst, mayBeUnreadable: false, cancellationToken);
        return false;
    }

    /// <summary>Opens the port with the profile's own settings, so that they are proved too.
    /// What came before is kept as it would have come so.</summary>
    private async Task SetAsync(LinkSettings settings, CancellationToken cancellationToken)
    {
        if (!request.CanSet || settings == _line.Settings)
        {
            return;
        }

        if (settings.MaskTopBit)
        {
            // The bytes kept so far still carry the parity that the port takes off from now on.
            var masked =
                _readings.Select(r => r with { Burst = new Burst([.. r.Burst.Chunks.Select(Masked)], r.Burst.IsEndless) }).ToList();
            _readings.Clear();
            _readings.AddRange(masked);
        }

        await _line.DisposeAsync();
        _talk.Say($"From here on at {LinkWords.Of(settings)}, as the top bits showed.");
        _line = await OpenLine.OpenAsync(opener, request.Address, settings, desk, time, cancellationToken);
    }

    private static CaptureChunk Masked(CaptureChunk chunk) => chunk with { Bytes = [.. chunk.Bytes.Select(b => (byte)(b & 0x7F))] };
}

/// <summary>What a profile makes of a burst that it was not learned from.</summary>
/// <param name="Densities">The only reading in it; null when there is none, or something else that the profile does not know.</param>
/// <param name="Trouble">Why there is none, in words; empty when there is one.</param>
internal sealed record ProofReading(ChannelDensities? Densities, string Trouble)
{
    /// <summary>Reads a burst as the program will: by line ends, and by the silence after it where pauses end lines.</summary>
    public static ProofReading Of(DeviceProfile profile, Burst burst)
    {
        var framer = new LineFramer(profile.Framing, profile.Link.MaskTopBit);
        var interpreter = new LineInterpreter(profile);
        List<LineFrame> frames = [.. burst.Chunks.SelectMany(c => framer.Push(c.Bytes.AsSpan(), c.At))];
        frames.AddRange(framer.Flush(burst.Chunks[^1].At + (profile.Framing.IdleGap ?? TimeSpan.Zero)));
        var events = frames.Select(interpreter.Interpret).ToImmutableArray();
        var readings = events.OfType<InstrumentEvent.ReadingTaken>().ToList();
        return events.OfType<InstrumentEvent.UnmatchedLine>().FirstOrDefault() is { } unmatched ? None(
            $"the line '{unmatched.Line.Text}' fits nothing. {unmatched.Reason}")
            : framer.HasPending ? None("its last line does not end.")
            : readings is [var only] ? new ProofReading(only.Reading.Densities, "")
            : events.Any(e => e is InstrumentEvent.BeyondRange) ? None("it is beyond the instrument's range.")
            : None(FormattableString.Invariant($"it holds {readings.Count} readings; one press should give one."));
    }

    private static ProofReading None(string trouble) => new(null, trouble);
}
