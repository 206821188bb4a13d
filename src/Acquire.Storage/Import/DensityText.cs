namespace Acquire.Storage.Import;

/// <summary>Densities as files have them: with exponents, and with decimals that only a computer adds.</summary>
internal static class DensityText
{
    /// <summary>Reads a density; decimals beyond the sixth no instrument shows, so they are rounded away. Never throws.</summary>
    public static bool TryRead(string text, out Density density)
    {
        density = default;
        if (!decimal.TryParse(text.Trim(), NumberStyles.Float, CultureInfo.InvariantCulture, out var value))
        {
            return false;
        }

        value = value.Scale > Density.MostDecimals ? Math.Round(value, Density.MostDecimals) : value;
        var possible = Density.IsPossible(value);
        density = possible ? new Density(value) : default;
        return possible;
    }
}
