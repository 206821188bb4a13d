namespace Acquire.Instruments.Lines;

/// <summary>
/// Doubts a reading whose lines came at an uneven pace. Where a line without a label was lost, the set is filled up by lines of the next
/// measurement, and a person has placed the film in between: one pause is then far longer than the others. A pause that comes again at the
/// same
/// place and alike is the instrument's own and is not doubted twice.
/// </summary>
internal sealed class ReadingPace
{
    /// <summary>Nobody places film and presses the key in less.</summary>
    private static readonly TimeSpan LeastHandling = TimeSpan.FromMilliseconds(400);

    /// <summary>
    /// How many times the shortest pause the longest may be; a lost line in the middle doubles the shortest. Common practice, no source.
    /// </summary>
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
                + "If a line was lost there, these are channels of two measurements: compare with the display, and read the patch again "
                    + "if they differ.";
    }
}
