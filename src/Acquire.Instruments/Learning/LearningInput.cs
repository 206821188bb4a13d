using Acquire.Instruments.Captures;
using Acquire.Instruments.Links;

namespace Acquire.Instruments.Learning;

/// <summary>What a profile is learned from.</summary>
/// <param name="Capture">The bytes as received, or lines of text as received.</param>
/// <param name="Shown">What the display showed for each measurement in the capture, in order.</param>
/// <param name="Channels">The channel of each shown value.</param>
/// <param name="Name">The name of the profile to make: lower-case letters, digits and hyphens.</param>
public sealed record LearningInput(
    ReadOnlyMemory<byte> Capture, ImmutableArray<ShownReading> Shown, ImmutableArray<Channel> Channels, string Name = "learned")
{
    /// <summary>The same bytes with the times they came at, so that lines that only a pause
    /// ends can be learned; empty where there are no times.</summary>
    public ImmutableArray<CaptureChunk> Chunks { get; init; } = [];

    /// <summary>How the line was set when the bytes came; null where that is not known, as for a file of bytes.</summary>
    public LinkSettings? Link { get; init; }

    /// <summary>What a profile is learned from, where the bytes came with their times.</summary>
    /// <param name="chunks">The chunks in order; breaks of the link are left out.</param>
    /// <param name="link">How the line was set; null where that is not known.</param>
    /// <param name="shown">What the display showed for each measurement, in order.</param>
    /// <param name="channels">The channel of each shown value.</param>
    /// <param name="name">The name of the profile to make.</param>
    public static LearningInput Timed(
        IEnumerable<CaptureChunk> chunks, LinkSettings? link, ImmutableArray<ShownReading> shown,
        ImmutableArray<Channel> channels, string name)
    {
        ImmutableArray<CaptureChunk> whole = [.. chunks.Where(c => !c.IsBreak)];
        return new LearningInput(whole.SelectMany(c => c.Bytes).ToArray(), shown, channels, name) { Chunks = whole, Link = link };
    }
}

/// <summary>What the instrument's display showed for one measurement.</summary>
/// <param name="Values">The density of each channel, in the order of
/// <see cref="LearningInput.Channels"/>; null where it showed an over-range mark.</param>
public sealed record ShownReading(ImmutableArray<Density?> Values)
{
    /// <summary>Reads values with blanks between them, such as <c>0.26 0.62 0.80</c>; a decimal
    /// comma is taken too, and any word stands for over-range.</summary>
    /// <param name="text">The values as typed.</param>
    /// <param name="channels">How many are expected.</param>
    /// <exception cref="ImpossibleValueException">Another number of values, or one that is no density.</exception>
    public static ShownReading Parse(string text, int channels)
    {
        var words = text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries);
        return words.Length == channels
            ? new ShownReading([.. words.Select(w => Value(w, text))])
            : throw new ImpossibleValueException(
                $"'{text}' holds {words.Length} values; expected {channels}, one for each channel, with blanks between them.");
    }

    private static Density? Value(string word, string text)
    {
        if (Density.TryParse(word.Replace(',', '.'), out var density))
        {
            return density;
        }

        var isNumber = word.TrimStart('+', '-') is [var first, ..] && char.IsAsciiDigit(first);
        return isNumber
            ? throw new ImpossibleValueException(
                $"'{word}' in '{text}' is no density; expected for example 0.26, or a word such as HI where the display showed over-range.")
            : null;
    }

    /// <summary>Whether every channel had a number.</summary>
    public bool IsWhole => Values.All(v => v is not null);

    /// <summary>The values with blanks between them.</summary>
    public override string ToString() => string.Join(' ', Values.Select(v => v?.ToString() ?? "over-range"));
}

/// <summary>What the shown values as a whole must be for a profile to be learned from them.</summary>
internal static class Shown
{
    public static int Decimals(LearningInput input) => Values(input).Max(v => v.Decimals);

    /// <summary>What is missing, in words; empty when nothing is.</summary>
    public static IEnumerable<string> Missing(LearningInput input)
    {
        var whole = input.Shown.Where(s => s.IsWhole).ToList();
        if (whole.DistinctBy(s => s.ToString()).Count() < 2)
        {
            yield return "Two readings of different patches are needed at least, each with a number in every channel; three are better.";
            yield break;
        }

        for (var i = 0; i < input.Channels.Length; i++)
        {
            for (var j = i + 1; j < input.Channels.Length; j++)
            {
                if (whole.All(s => s.Values[i]!.Value.Value == s.Values[j]!.Value.Value))
                {
                    yield return $"The display showed the same for {input.Channels[i].Word()} and {input.Channels[j].Word()} in every "
                        + "reading, so it cannot be known which is which. Read a patch on which they differ.";
                }
            }
        }
    }

    /// <summary>Whether the display showed over-range for every channel at once.</summary>
    public static bool HasAllBeyond(LearningInput input) => input.Shown.Any(s => s.Values.All(v => v is null));

    private static IEnumerable<Density> Values(LearningInput input) => input.Shown.SelectMany(s => s.Values).OfType<Density>();
}
