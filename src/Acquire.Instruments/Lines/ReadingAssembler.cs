using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Lines;

/// <summary>
/// Makes one reading of channels that come on a line each. Channels of two measurements are never merged:
/// <list type="bullet">
/// <item>channels must come in the profile's order; the first channel begins anew and the unfinished set is given up with a note; any
/// other channel out of order fits nothing and the set is given up too;</item>
/// <item>a pause longer than the time-out gives an unfinished set up;</item>
/// <item>an error, a whole reading or a line that fits nothing gives it up as well;</item>
/// <item>lines without labels cannot show which one is missing, so after such a break they count again only after a pause, and a reading
/// whose lines came at an uneven pace is doubted in a note.</item>
/// </list>
/// Time is the lines' own; a clock that is set back makes no pause.
/// </summary>
internal sealed class ReadingAssembler(AssemblySettings settings)
{
    private readonly List<(Channel Channel, Density? Density, RawLine Line)> _taken = [];
    private readonly ReadingPace _pace = new();
    private DateTimeOffset? _lastAt;
    private bool _lost;

    /// <summary>Takes a line that holds one channel.</summary>
    public InstrumentEvent Take(RawLine line, in LineMatch match)
    {
        var note = Wait(line);
        var expected = settings.Order[_taken.Count];
        var slot = match.Has(LineMatch.NextSlot) ? LineMatch.NextSlot : (int)Channels.All.First(SlotOf(match));
        if (slot == LineMatch.NextSlot)
        {
            // Without labels a lost line would shift every channel after it, and the densities would look plausible.
            return _lost ? Unplaced(line, note) : Add(line, expected, match, slot, note);
        }

        // The first channel out of order is the next measurement; any other one means a lost line, and which one cannot be known.
        var channel = (Channel)slot;
        if (channel != expected)
        {
            note = GiveUp($"{channel.Word()} came where {expected.Word()} was expected") ?? note;
            expected = settings.Order[0];
        }

        return channel == expected
            ? Add(line, channel, match, slot, note)
            : new InstrumentEvent.UnmatchedLine(
                line, $"{channel.Word()} came where {expected.Word()} was expected, so a line is missing. Read the patch again.")
                { Note = note };
    }

    /// <summary>Notes that a line of another kind came; gives the note about a reading that is thereby given up.</summary>
    /// <param name="garbled">Whether it fits nothing, so that it may have been a channel.</param>
    public string? Break(RawLine line, bool garbled)
    {
        var late = Wait(line);
        _lost |= garbled || _taken.Count > 0;
        return GiveUp("another line came before it was complete") ?? late;
    }

    private static Func<Channel, bool> SlotOf(LineMatch match) => c => match.Has((int)c);

    private string? Wait(RawLine line)
    {
        var late = _lastAt is { } last && line.ReceivedAt - last > settings.Timeout;
        _lastAt = line.ReceivedAt;
        if (!late)
        {
            return null;
        }

        _lost = false;
        return GiveUp($"the next line came more than {Seconds()} s later");
    }

    private string? GiveUp(string why)
    {
        if (_taken.Count == 0)
        {
            return null;
        }

        var channels = string.Join(", ", _taken.Select(t => t.Channel.Word()));
        _taken.Clear();
        return $"The unfinished reading before ({channels}) was given up: {why}.";
    }

    private InstrumentEvent Add(RawLine line, Channel channel, in LineMatch match, int slot, string? note)
    {
        Density? density = match.IsBeyond(slot) ? null : match.Density(slot);
        _taken.Add((channel, density, line));
        if (_taken.Count == settings.Order.Length)
        {
            var doubt = slot == LineMatch.NextSlot ? _pace.Doubt([.. _taken.Select(t => t.Line.ReceivedAt)]) : null;
            return Complete(line) with { Note = note ?? doubt };
        }

        return density is { } value
            ? new InstrumentEvent.ChannelTaken(line, channel, value) { Note = note }
            : new InstrumentEvent.ChannelBeyondRange(line, channel) { Note = note };
    }

    private InstrumentEvent Complete(RawLine line)
    {
        var taken = _taken.ToArray();
        _taken.Clear();
        if (taken.Any(t => t.Density is null))
        {
            return new InstrumentEvent.BeyondRange(line, [.. taken.Where(t => t.Density is null).Select(t => t.Channel)]);
        }

        var densities = ChannelDensities.Of(taken.Select(t => KeyValuePair.Create(t.Channel, t.Density!.Value)));
        return new InstrumentEvent.ReadingTaken(line, new Reading(densities, line.ReceivedAt, [.. taken.Select(t => t.Line)]));
    }

    private InstrumentEvent.UnmatchedLine Unplaced(RawLine line, string? note) => new(
        line,
        $"A line before this one could not be used, so it is not known which channel this is. Wait {Seconds()} s, then read the patch "
        + "again.") { Note = note };

    private string Seconds() => settings.Timeout.TotalSeconds.ToString("0.###", CultureInfo.InvariantCulture);
}

/// <summary>Doubts a reading whose lines came at an uneven pace. Where a line without a label was lost, the set is filled up by lines of
/// the next measurement, and a person has placed the film in between: one pause is then far longer than the others. A pause that comes
/// again at the same place and alike is the instrument's own and is not doubted twice.</summary>
internal sealed class ReadingPace
{
    /// <summary>Nobody places film and presses the key in less.</summary>
    private static readonly TimeSpan LeastHandling = TimeSpan.FromMilliseconds(400);

    /// <summary>How many times the shortest pause the longest may be; a lost line in the
    /// middle doubles the shortest. Common practice, no source.</summary>
    private const int Uneven = 3;

    /// <summary>How alike two pauses of an instrument are; those of a person differ more.</summary>
    private const double Alike = 0.1;

    private (int Place, TimeSpan Pause)? _before;

    /// <summary>What to say of a reading; null when its pace gives no cause.</summary>
    /// <param name="received">When each of its lines was received.</param>
    public string? Doubt(ImmutableArray<DateTimeOffset> received)
    {
        ImmutableArray<TimeSpan> pauses = [.. received.Zip(received.Skip(1), (a, b) => b > a ? b - a : TimeSpan.Zero)];
        var (longest, shortest) = pauses.Length > 1 ? (pauses.Max(), pauses.Min()) : default;
        if (longest < LeastHandling || longest < Uneven * shortest)
        {
            _before = null;
            return null;
        }

        var place = pauses.IndexOf(longest);
        var own = _before is { } before && before.Place == place && (longest - before.Pause).Duration() <= Alike * before.Pause;
        _before = (place, longest);
        return own
            ? null
            : string.Create(
                CultureInfo.InvariantCulture,
                $"Line {place + 2} of this reading came {longest.TotalSeconds:0.0} s after the one before, the others follow within "
                + $"{shortest.TotalSeconds:0.0##} s. ")
                + "If a line was lost there, these are channels of two measurements: compare with the display, and read the patch again if "
                    + "they differ.";
    }
}
