using System.Text;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Learning;

/// <summary>What was answered about a burst.</summary>
internal abstract record ShownAnswer
{
    /// <summary>The display showed these values, and those that are numbers stand in the burst.</summary>
    public sealed record Values(ShownReading Shown) : ShownAnswer;

    /// <summary>The burst is to be forgotten.</summary>
    public sealed record Forget : ShownAnswer;

    /// <summary>The readings before are to be forgotten, and this one is to be asked about again.</summary>
    public sealed record Redo : ShownAnswer;

    /// <summary>The burst is no text: the line settings are wrong.</summary>
    public sealed record Unreadable : ShownAnswer;
}

/// <summary>Shows a burst and asks what the display showed for it.</summary>
internal sealed class ShownQuestion(ILearningDesk desk, ImmutableArray<Channel> channels)
{
    private const int MostTries = 3;
    private readonly DeskTalk _talk = new(desk);

    /// <summary>Asks until the answer can be true, or three times.</summary>
    /// <param name="mayBeUnreadable">Whether other line settings may be tried.</param>
    /// <exception cref="DeclinedException">Nobody answers.</exception>
    public async Task<ShownAnswer> AskAsync(Burst burst, bool mayBeUnreadable, CancellationToken cancellationToken)
    {
        _talk.Show(burst);
        var order = string.Join(' ', channels.Select(c => c.Letter()));
        var question =
            $"What does the display show, {order}? (Enter forgets this "
            + $"reading{(mayBeUnreadable ? "; n: this is no text, try other settings" : "")}; q stops)";
        for (var tries = 0; tries < MostTries; tries++)
        {
            var text = await _talk.AskAsync(question, cancellationToken);
            if (text.Length == 0 || DeskTalk.Is(text, "skip"))
            {
                break;
            }

            if (DeskTalk.Is(text, "redo"))
            {
                return new ShownAnswer.Redo();
            }

            if (mayBeUnreadable && DeskTalk.Is(text, "n", "next"))
            {
                return new ShownAnswer.Unreadable();
            }

            if (Parse(text) is { } shown)
            {
                if (SeenValues.Absent(shown, burst) is not { IsEmpty: false } absent)
                {
                    return new ShownAnswer.Values(shown);
                }

                _talk.Say(
                    $"{string.Join(", ", absent)} is nowhere in what came: '{string.Join(" ⏎ ", burst.Lines())}'. Type the values as the "
                    + "display shows them, all decimals.");
            }
        }

        _talk.Say("This reading is forgotten.");
        return new ShownAnswer.Forget();
    }

    private ShownReading? Parse(string text)
    {
        try
        {
            return ShownReading.Parse(text, channels.Length);
        }
        catch (ImpossibleValueException e)
        {
            _talk.Say(e.Message);
            return null;
        }
    }
}

/// <summary>Which shown values stand on the lines of a burst, however its lines end and its numbers are written.</summary>
internal static class SeenValues
{
    /// <summary>The shown values that stand nowhere.</summary>
    public static ImmutableArray<Density> Absent(ShownReading shown, Burst burst)
    {
        var decimals = Math.Max(1, shown.Values.Max(v => v?.Decimals ?? 1));
        var lines = Lines(burst).ToList();
        return WritingWays.Absent(shown.Values.OfType<Density>(), lines, decimals);
    }

    private static IEnumerable<string> Lines(Burst burst)
    {
        var mask = TopBits.Of(burst.Bytes.AsSpan()) != TopBit.Data;
        return PauseGaps.Of(burst.Chunks).Select(g => (TimeSpan?)g).Append(null).SelectMany(gap =>
        {
            var framer = new LineFramer(new FramingSettings { IdleGap = gap, MaxLength = 4096 }, mask);
            List<LineFrame> frames = [.. burst.Chunks.SelectMany(c => framer.Push(c.Bytes.AsSpan(), c.At))];
            return frames.Concat(framer.Finish()).Select(f => Encoding.Latin1.GetString(f.Line.Bytes.AsSpan()));
        });
    }
}
