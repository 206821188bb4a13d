namespace Acquire.Instruments.Profiles;

/// <summary>The decimal mark that an instrument writes.</summary>
public enum DecimalMark
{
    /// <summary>A point; a missing leading zero is accepted.</summary>
    Point,

    /// <summary>A comma; a missing leading zero is accepted.</summary>
    Comma,

    /// <summary>None: the last digits are decimals, see <see cref="NumberFormat.Decimals"/>.</summary>
    Implied,
}

/// <summary>How an instrument writes a sign.</summary>
public enum SignHabit
{
    /// <summary>Any of the three below.</summary>
    Any,

    /// <summary>Plus and minus are both written.</summary>
    Always,

    /// <summary>Only a minus is written.</summary>
    MinusOnly,

    /// <summary>A minus or, in its place, a blank.</summary>
    BlankForPlus,
}

/// <summary>What becomes of the decimals that are sent and not shown.</summary>
public enum Rounding
{
    /// <summary>They are noughts; a number with another digit there is refused.</summary>
    Exact,

    /// <summary>The reading is the nearest that can be shown, halves away from nought.</summary>
    Nearest,

    /// <summary>They are cut off.</summary>
    Cut,
}

/// <summary>How densities are written on the line.</summary>
public sealed record NumberFormat
{
    /// <summary>Default point.</summary>
    public DecimalMark DecimalMark { get; init; } = DecimalMark.Point;

    /// <summary>Decimals of every number, 1 … 6: implied ones, or the ones a number must show. Null: any number of decimals is accepted,
    /// which lets a number that lost its last character on the line pass unseen.</summary>
    public int? Decimals { get; init; } = 2;

    /// <summary>Digits that every number shows before its decimals, 1 or 2 (0 too in base 16), leading zeros included; it is what tells
    /// <c>.26</c> from a
    /// <c>1.26</c> that lost its first digit. Null: any number, none included. Default null.</summary>
    public int? WholeDigits { get; init; }

    /// <summary>Default any.</summary>
    public SignHabit Sign { get; init; } = SignHabit.Any;

    /// <summary>10, or 16 for whole numbers in hexadecimal, whose <see cref="Decimals"/> count tenths as ever: 01A is 0.26.</summary>
    public int Base { get; init; } = 10;

    /// <summary>Digits of the exponent that ends every number, behind E and a sign: 2 for 2.60E-01. Null for no exponent.</summary>
    public int? ExponentDigits { get; init; }

    /// <summary>Decimals of the readings, where the line has more than the display or where they follow from an exponent. Null: a reading
    /// has the decimals that were sent.</summary>
    public int? ShownDecimals { get; init; }

    /// <summary>What becomes of what is sent beyond <see cref="ShownDecimals"/>. Default exact.</summary>
    public Rounding Rounding { get; init; }

    /// <summary>What the instrument writes in place of a number that is beyond its range, such as <c>&gt;4.0</c> or <c>----</c>.</summary>
    public ImmutableArray<string> OverRange { get; init; } = [];
}
