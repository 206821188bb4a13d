using Acquire.Instruments.Links;

namespace Acquire.Instruments.Learning;

/// <summary>Tries line settings one after the other, a press of the instrument's key each, until what comes looks like a reading.</summary>
internal sealed class SettingsSearch(ILinkOpener opener, ILearningDesk desk, TimeProvider time, LiveRequest request)
{
    private readonly DeskTalk _talk = new(desk);
    private readonly List<(LinkSettings Settings, BurstLook Look)> _tried = [];
    private readonly Queue<LinkSettings> _left = new(request.CanSet ? LinkCandidates.First(request.Baud) : [new LinkSettings()]);
    private bool _isSecond = !request.CanSet;

    /// <summary>The next settings at which a burst looks like a reading, the port left open, and that burst.</summary>
    /// <exception cref="DeclinedException">There are none, or nobody answers.</exception>
    /// <exception cref="LinkException">The port cannot be opened, or broke.</exception>
    public async Task<(OpenLine Line, Burst First)> NextAsync(CancellationToken cancellationToken)
    {
        while (Candidate() is { } settings)
        {
            var line = await OpenLine.OpenAsync(opener, request.Address, settings, desk, time, cancellationToken);
            Burst? found = null;
            try
            {
                found = await TryAsync(line, cancellationToken);
            }
            finally
            {
                await (found is null ? line.DisposeAsync() : ValueTask.CompletedTask);
            }

            if (found is not null)
            {
                return (line, found);
            }
        }

        throw new DeclinedException(Nothing());
    }

    private LinkSettings? Candidate()
    {
        if (_left.Count == 0 && !_isSecond)
        {
            // Only now: each of these costs a press of the key, and a rate that was wrong is wrong with parity too.
            _isSecond = true;
            var more = LinkCandidates.Second(_tried);
            if (!more.IsEmpty)
            {
                _talk.Say(
                    "No rate gave text so far. What is left is eight bits with parity, and seven bits without; the likeliest first. q "
                    + "stops.");
            }

            foreach (var settings in more)
            {
                _left.Enqueue(settings);
            }
        }

        return _left.TryDequeue(out var next) ? next : null;
    }

    private async Task<Burst?> TryAsync(OpenLine line, CancellationToken cancellationToken)
    {
        var words = request.CanSet ? LinkWords.Of(line.Settings) : request.Address.ToString()!;
        var again = false;
        while (true)
        {
            _talk.Say(request.CanSet
                ? $"Trying {words}{Left()}. Place a patch and press the instrument's key once{(again ? " more" : "")}."
                : $"{words} sets the rate itself. Place a patch and press the instrument's key once{(again ? " more" : "")}.");
            var burst = await line.Reader.NextAsync(request.Patience, request.Quiet, cancellationToken);
            var look = BurstLook.At(burst is null ? [] : burst.Bytes.AsSpan());
            _tried.Add((line.Settings, look));
            if (burst is null)
            {
                if (await WaitsAsync(words, cancellationToken))
                {
                    continue;
                }

                return null;
            }

            // An endless stream at the right settings would be endless at every other one too, so there is no use in going on.
            if (look.Verdict == BurstVerdict.Clear)
            {
                return burst.IsEndless ? throw new DeclinedException(Endless(words)) : burst;
            }

            _talk.Show(burst);
            var share = FormattableString.Invariant($"{look.Bytes} bytes at {words}, {100 * look.TextShare:0} % of them text");
            // One damaged byte must not cost the right settings; a second burst like that is no accident.
            if (again || look.Verdict == BurstVerdict.Garbled)
            {
                _talk.Say($"{share}: garbled{(burst.IsEndless ? ", and without a pause" : "")}.");
                return null;
            }

            again = true;
            _talk.Say($"{share}: almost right, so once more at the same settings.");
        }
    }

    private async Task<bool> WaitsAsync(string words, CancellationToken cancellationToken)
    {
        _talk.Say(
            $"Nothing came within {request.Patience.TotalSeconds:0.#} s at {words}. A wrong rate mostly shows as garbled bytes; silence "
            + "rather means the cable, the port, or that the instrument's output is switched off.");
        return !DeskTalk.Is(await _talk.AskAsync(
            _left.Count > 0 ? "Enter waits again, n tries the next settings, q stops." : "Enter waits again, n gives up.",
            cancellationToken), "n", "next");
    }

    private string Left() => _left.Count > 0 ? FormattableString.Invariant($" ({_left.Count} more to try)") : "";

    private string Nothing() => _tried.All(t => t.Look.Verdict == BurstVerdict.Silent)
        ? $"Nothing came from {request.Address}. Check that it is the instrument's port ('acquire ports'), that the cable crosses send and "
            + "receive as the instrument needs it, and that the instrument is set to send its readings."
        : $"Something came from {request.Address}, but text at none of the settings that were tried: "
            + $"{string.Join(", ", _tried.Select(t => LinkWords.Of(t.Settings)).Distinct())}. Look the rate up in the instrument's papers "
            + "and give it with --baud; a signal that is upside down or at the wrong level shows as garbled at every rate.";

    private static string Endless(string words) =>
        $"Text comes at {words}, but without a pause, so that no reading can be told from the next. Set the instrument to send once for "
        + "each press of its key.";
}

/// <summary>The line settings to try, the likeliest first.</summary>
internal static class LinkCandidates
{
    /// <summary>The usual rates, in bits per second, by how often instruments of
    /// this kind have them (common practice, no source).</summary>
    public static ImmutableArray<int> Rates { get; } = [9600, 1200, 2400, 4800, 19200, 300, 600, 38400, 57600, 115200];

    /// <summary>Every rate, or only the one that is known, received as eight bits without parity: seven bits with parity look so too, and
    /// their top bits then show the parity. A second stop bit is never missed.</summary>
    public static ImmutableArray<LinkSettings> First(int? baud) =>
        [.. (baud is { } known ? [known] : Rates).Select(r => new LinkSettings { Baud = r })];

    /// <summary>What cannot be received so, when no rate gave text: eight bits with parity, and seven bits without. The rates at which
    /// something came, those that looked most like text first.</summary>
    public static ImmutableArray<LinkSettings> Second(IEnumerable<(LinkSettings Settings, BurstLook Look)> tried) =>
    [
        .. tried.Where(t => t.Look.Verdict != BurstVerdict.Silent).OrderByDescending(t => t.Look.TextShare).Select(t => t.Settings)
            .Distinct()
            .SelectMany(s => (IEnumerable<LinkSettings>)
                [s with { Parity = LineParity.Even }, s with { Parity = LineParity.Odd }, s with { DataBits = 7 }]),
    ];
}
