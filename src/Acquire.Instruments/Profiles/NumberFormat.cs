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

/// <summary>How densities are written on the line.</summary>
public sealed record NumberFormat
{
    /// <summary>Default point.</summary>
    public DecimalMark DecimalMark { get; init; } = DecimalMark.Point;

    /// <summary>Decimals of every number, 1 … 4: implied ones, or the ones a number must show. Null: any number of decimals is accepted,
    /// which lets a number that lost its last character on the line pass unseen.</summary>
    public int? Decimals { get; init; } = 2;

    /// <summary>Digits that every number shows before its decimals, 1 or 2, leading zeros included; it is what tells <c>.26</c> from a
    /// <c>1.26</c> that lost its first digit. Null: any number, none included. Default null.</summary>
    public int? WholeDigits { get; init; }

    /// <summary>Default any.</summary>
    public SignHabit Sign { get; init; } = SignHabit.Any;

    /// <summary>What the instrument writes in place of a number that is beyond its range, such as <c>&gt;4.0</c> or <c>----</c>.</summary>
    public ImmutableArray<string> OverRange { get; init; } = [];
}
