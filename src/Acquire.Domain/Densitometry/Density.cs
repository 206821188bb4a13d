namespace Acquire.Domain.Densitometry;

/// <summary>One density as an instrument shows it: log10 of the reciprocal transmittance or reflectance, no unit. It is decimal, so that
/// 0.26 stays 0.26 and the number of shown decimals travels with the value.</summary>
/// <remarks>Negative values exist: an instrument zeroed on a dirty aperture shows them, and so does a relative mode. The bounds −2 … 10
/// keep out what no densitometer can show; source: common practice, no source.</remarks>
public readonly record struct Density : IComparable<Density>
{
    /// <summary>The least value accepted.</summary>
    public const decimal Least = -2m;

    /// <summary>The largest value accepted.</summary>
    public const decimal Largest = 10m;

    /// <summary>The most decimals accepted; densitometers show two or three.</summary>
    public const int MostDecimals = 6;

    /// <summary>Makes a density of the digits shown, trailing zeros included.</summary>
    /// <exception cref="ImpossibleValueException">The value is outside −2 … 10 or has more than six decimals.</exception>
    public Density(decimal value)
    {
        if (!IsPossible(value))
        {
            throw new ImpossibleValueException(
                FormattableString.Invariant($"{value} is no density; expected {Least} to {Largest} with at most {MostDecimals} decimals."));
        }

        // Two densities are equal by value: 0.50 and 0.5 are the same, though the second was shown with a coarser step.
        Value = value;
    }

    /// <summary>The value, with the decimals as shown.</summary>
    public decimal Value { get; }

    /// <summary>How many decimals were shown.</summary>
    public int Decimals => Value.Scale;

    /// <summary>The display step: one unit of the last shown decimal, in density.</summary>
    public double Resolution => Math.Pow(10, -Decimals);

    /// <summary>Whether <see cref="Density(decimal)"/> would accept the value.</summary>
    public static bool IsPossible(decimal value) => value is >= Least and <= Largest && value.Scale <= MostDecimals;

    /// <summary>Reads a density in invariant notation, such as <c>0.26</c> or <c>-.01</c>. Never throws.</summary>
    public static bool TryParse(string? text, out Density density)
    {
        const NumberStyles Style = NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint
            | NumberStyles.AllowLeadingWhite | NumberStyles.AllowTrailingWhite;
        // No exponents, no thousands: a display shows neither, so a line that has one is no density and must not become one.
        var possible = decimal.TryParse(text, Style, CultureInfo.InvariantCulture, out var value) && IsPossible(value);
        density = possible ? new Density(value) : default;
        return possible;
    }

    /// <summary>The value as a binary number, for arithmetic.</summary>
    public double ToDouble() => (double)Value;

    /// <inheritdoc/>
    public int CompareTo(Density other) => Value.CompareTo(other.Value);

    /// <summary>The digits as shown, in invariant notation.</summary>
    public override string ToString() => Value.ToString(CultureInfo.InvariantCulture);

    /// <summary>Whether the first is below the second.</summary>
    public static bool operator <(Density left, Density right) => left.Value < right.Value;

    /// <summary>Whether the first is above the second.</summary>
    public static bool operator >(Density left, Density right) => left.Value > right.Value;

    /// <summary>Whether the first is not above the second.</summary>
    public static bool operator <=(Density left, Density right) => left.Value <= right.Value;

    /// <summary>Whether the first is not below the second.</summary>
    public static bool operator >=(Density left, Density right) => left.Value >= right.Value;
}

/// <summary>The spectral response a density was read with (ISO 5-3).</summary>
public enum DensityStatus
{
    /// <summary>Status M: colour negatives that are to be printed.</summary>
    M,

    /// <summary>Status A: colour reversal film and colour prints.</summary>
    A,

    /// <summary>Visual density, for black-and-white.</summary>
    Visual,
}
