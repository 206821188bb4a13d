namespace Acquire.Domain.Books;

/// <summary>What volumes and temperatures of solutions can be.</summary>
internal static class Liquid
{
    /// <summary>A volume in litres, above zero.</summary>
    public static double Volume(double litres, string what) => litres is > 0 and <= 100_000
        ? litres
        : throw new ImpossibleValueException($"{what} is above zero and at most 100000 litres, not {litres}.");

    /// <summary>A temperature in °C at which a solution in water is liquid.</summary>
    public static double? Temperature(double? celsius, string what) => celsius is null or (>= -30 and <= 100)
        ? celsius
        : throw new ImpossibleValueException($"{what} is between -30 and 100 °C, not {celsius}.");

    public static double? Volume(double? litres, string what) => litres is { } given ? Volume(given, what) : null;

    /// <summary>Text or nothing; blanks alone are nothing.</summary>
    public static string? Word(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();
}
