namespace Acquire.Formats;

/// <summary>Densities as files have them: with exponents, and with decimals that only a computer adds.</summary>
public static class DensityText
{
    /// <summary>The number without the decimals beyond the sixth, which no instrument shows: a computer has counted with it.</summary>
    public static decimal Shown(decimal value) => value.Scale > Density.MostDecimals ? Math.Round(value, Density.MostDecimals) : value;

    /// <summary>Reads a density as it was shown. Never throws.</summary>
    public static bool TryRead(string text, out Density density)
    {
        var possible = decimal.TryParse(text.Trim(), NumberStyles.Float, CultureInfo.InvariantCulture, out var value)
            && Density.IsPossible(Shown(value));
        density = possible ? new Density(Shown(value)) : default;
        return possible;
    }
}
