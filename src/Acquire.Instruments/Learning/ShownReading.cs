namespace Acquire.Instruments.Learning;

/// <summary>What the instrument's display showed for one measurement.</summary>
/// <param name="Values">
/// The density of each channel, in the order of <see cref="LearningInput.Channels"/>; null where it showed an over-range mark.
/// </param>
public sealed record ShownReading(ImmutableArray<Density?> Values)
{
    /// <summary>
    /// Reads values with blanks between them, such as <c>0.26 0.62 0.80</c>; a decimal comma is taken too, and any word stands for
    /// over-range.
    /// </summary>
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
