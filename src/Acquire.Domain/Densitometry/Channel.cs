namespace Acquire.Domain.Densitometry;

/// <summary>The spectral channels of a colour densitometer (ISO 5-3).</summary>
public enum Channel
{
    /// <summary>Red: the density of the cyan dye.</summary>
    Red,

    /// <summary>Green: the density of the magenta dye.</summary>
    Green,

    /// <summary>Blue: the density of the yellow dye.</summary>
    Blue,

    /// <summary>Visual: the luminous response, for black-and-white.</summary>
    Visual,
}

/// <summary>Names of channels, and the sets that processes use.</summary>
public static class Channels
{
    /// <summary>All channels, in the order in which they are always listed.</summary>
    public static ImmutableArray<Channel> All { get; } = [Channel.Red, Channel.Green, Channel.Blue, Channel.Visual];

    /// <summary>The three colours, in the trade's order.</summary>
    public static ImmutableArray<Channel> Colours { get; } = [Channel.Red, Channel.Green, Channel.Blue];

    /// <summary>The lower-case word used in files and output: <c>red</c>, <c>green</c>, <c>blue</c>, <c>visual</c>.</summary>
    public static string Word(this Channel channel) => channel switch
    {
        Channel.Red => "red",
        Channel.Green => "green",
        Channel.Blue => "blue",
        Channel.Visual => "visual",
        _ => throw new ArgumentOutOfRangeException(nameof(channel), channel, null),
    };

    /// <summary>The letter used in tables: <c>R</c>, <c>G</c>, <c>B</c>, <c>V</c>.</summary>
    public static string Letter(this Channel channel) => channel switch
    {
        Channel.Red => "R",
        Channel.Green => "G",
        Channel.Blue => "B",
        Channel.Visual => "V",
        _ => throw new ArgumentOutOfRangeException(nameof(channel), channel, null),
    };

    /// <summary>Finds a channel by its word or letter, in any case.</summary>
    public static bool TryParse(string? text, out Channel channel)
    {
        foreach (var candidate in All)
        {
            if (Keys.Same(text, candidate.Word()) || Keys.Same(text, candidate.Letter()))
            {
                channel = candidate;
                return true;
            }
        }

        channel = default;
        return false;
    }

    /// <summary>Finds a channel by its word or letter.</summary>
    /// <exception cref="ImpossibleValueException">There is no such channel.</exception>
    public static Channel Parse(string? text) =>
        TryParse(text, out var channel)
            ? channel
            : throw new ImpossibleValueException($"'{text}' is no channel; expected red, green, blue or visual.");
}
