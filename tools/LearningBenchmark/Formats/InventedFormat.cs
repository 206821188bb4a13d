namespace LearningBenchmark.Formats;

/// <summary>One invented way of sending readings. It is drawn at random and written by code of its own, not by the product's.</summary>
public sealed record InventedFormat
{
    /// <summary>The channels on the line, in order.</summary>
    public required ImmutableArray<Channel> Channels { get; init; }

    /// <summary>The channels that the user types, which may lack the visual one.</summary>
    public required ImmutableArray<Channel> Shown { get; init; }

    public bool ChannelPerLine { get; init; }

    /// <summary>Before each value, <c>*</c> for the channel's letter; empty for none.</summary>
    public string Label { get; init; } = "";

    public string Separator { get; init; } = " ";

    /// <summary>The decimal mark, or <c>'\0'</c> where decimals are implied.</summary>
    public char Mark { get; init; } = '.';

    public int Decimals { get; init; } = 2;

    public bool LeadingZero { get; init; } = true;

    /// <summary>Digits of implied numbers, zeros in front; 0 where blanks stand in front.</summary>
    public int ImpliedDigits { get; init; } = 3;

    /// <summary><c>+</c> always, <c>-</c> only minus, a blank for plus.</summary>
    public char Sign { get; init; } = '-';

    /// <summary>The width of a right-justified field, 0 for none.</summary>
    public int Width { get; init; }

    /// <summary>What stands before and behind the values, with <c>%</c> places, see <see cref="FormatWriter"/>.</summary>
    public string Prefix { get; init; } = "";

    public string Suffix { get; init; } = "";

    /// <summary>Lines before the first reading, before each, behind each.</summary>
    public ImmutableArray<string> Opening { get; init; } = [];

    public ImmutableArray<string> Header { get; init; } = [];

    public ImmutableArray<string> Footer { get; init; } = [];

    public string LineEnd { get; init; } = "\r\n";

    public bool StartAndEnd { get; init; }

    /// <summary>n none, e even, o odd, m mark.</summary>
    public char Parity { get; init; } = 'n';

    /// <summary>The over-range mark that the capture shows; empty for none.</summary>
    public string OverRange { get; init; } = "";

    /// <summary>Whether the display showed the over-range reading too.</summary>
    public bool OverRangeShown { get; init; }

    /// <summary>The rare way of writing, and what belongs to it.</summary>
    public RareHabit Habit { get; init; }

    /// <summary>The decimals that the display shows of those sent.</summary>
    public int DisplayDecimals { get; init; } = 2;

    /// <summary>Whether the display cuts what it does not show; else it rounds.</summary>
    public bool Cuts { get; init; }

    /// <summary>Noughts behind an implied number.</summary>
    public int Scale { get; init; }

    /// <summary>What stands between a number and the same number again, or <c>line</c> where all come again; empty for once.</summary>
    public string Again { get; init; } = "";

    /// <summary>The letters behind light, middle and dark numbers; empty for none.</summary>
    public string Letters { get; init; } = "";

    /// <summary>The decimals before an exponent; 0 for no exponent.</summary>
    public int ExponentDecimals { get; init; }

    /// <summary>Whether the instrument shows nought for what is below it.</summary>
    public bool NeverNegative { get; init; }

    /// <summary>Why this cannot be learned; null when it can.</summary>
    public Flaw? Flaw { get; init; }
}

/// <summary>What makes a capture one from which nothing can be learned for certain.</summary>
public enum Flaw
{
    /// <summary>Two channels are equal in every reading.</summary>
    EqualChannels,

    /// <summary>The line has a digit more than the display.</summary>
    DisplayRounds,

    /// <summary>A value was mistyped.</summary>
    Mistyped,

    /// <summary>Nothing ends a line.</summary>
    NoLineEnd,

    /// <summary>A reading in the capture was not noted.</summary>
    ReadingMissed,

    /// <summary>The visual column equals green in every reading, and only the colours were noted.</summary>
    EqualVisual,
}
