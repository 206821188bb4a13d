namespace Acquire.Domain;

/// <summary>The few checks that every invariant of this project is made of.</summary>
internal static class Guard
{
    public static string Text(string? value, string what) =>
        string.IsNullOrWhiteSpace(value) ? throw new ImpossibleValueException($"{what} must not be empty.") : value.Trim();

    public static void That(bool holds, string otherwise)
    {
        if (!holds)
        {
            throw new ImpossibleValueException(otherwise);
        }
    }

    public static double Finite(double value, string what) =>
        double.IsFinite(value) ? value : throw new ImpossibleValueException($"{what} must be a finite number, not {value}.");

    /// <summary>Refuses what no density, log exposure or difference of them is;
    /// beyond it, numbers overflow in what is computed of them.</summary>
    public static double Sane(double value, string what) =>
        Math.Abs(Finite(value, what)) <= 1000
            ? value
            : throw new ImpossibleValueException($"{what} lies between -1000 and 1000, and is not {value}.");

    public static ImmutableArray<T> NotEmpty<T>(ImmutableArray<T> items, string what) =>
        items.IsDefaultOrEmpty ? throw new ImpossibleValueException($"{what} must not be empty.") : items;

    /// <summary>Refuses two items of the same key; keys compare without regard to case.</summary>
    public static void Unique<T>(IEnumerable<T> items, Func<T, string> key, string what)
    {
        var twice = items.GroupBy(key, StringComparer.OrdinalIgnoreCase).FirstOrDefault(g => g.Count() > 1);
        // No message is made for the many lists that are as they should be: strips are loaded by the thousand.
        if (twice is not null)
        {
            throw new ImpossibleValueException($"{what} '{twice.Key}' is named twice.");
        }
    }
}

/// <summary>A value that cannot exist in the trade was asked for: a density that is no number, a control limit inside the action limit, a
/// lot without patches. The message is written for the user and says what was expected.</summary>
public sealed class ImpossibleValueException(string message) : Exception(message);

/// <summary>Keys and codes that people type: lots, patches, processes. They are the same whatever the case.</summary>
public static class Keys
{
    public static bool Same(string? one, string? other) => string.Equals(one, other, StringComparison.OrdinalIgnoreCase);
}
