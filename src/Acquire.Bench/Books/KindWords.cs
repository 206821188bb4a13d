namespace Acquire.Bench.Books;

/// <summary>Kinds as people write them: <c>dip-tank</c>, <c>dip tank</c> or <c>DipTank</c>.</summary>
public static class KindWords
{
    /// <exception cref="BenchException">It is none of them; the message lists them.</exception>
    public static T Of<T>(string text)
        where T : struct, Enum => TryOf<T>(text) ?? throw new BenchException($"'{text}' is none of {string.Join(", ", All<T>())}.");

    /// <summary>The same; null when it is none of them.</summary>
    public static T? TryOf<T>(string text)
        where T : struct, Enum
    {
        var wanted = string.Concat(text.Split('-', ' ', '_'));
        return Enum.GetValues<T>().Where(k => k.ToString().Equals(wanted, StringComparison.OrdinalIgnoreCase)).Cast<T?>().FirstOrDefault();
    }

    public static IEnumerable<string> All<T>()
        where T : struct, Enum => Enum.GetValues<T>().Select(k => EntryText.Word(k).Replace(' ', '-')).Order(StringComparer.Ordinal);
}
