namespace Acquire.Analysis.Judgement;

internal static class Lookup
{
    /// <summary>The value of a key, or null; the library's own look-up would give a zero that passes for a value.</summary>
    public static TValue? GetValueOrNull<TKey, TValue>(this ImmutableDictionary<TKey, TValue> values, TKey key)
        where TKey : notnull
        where TValue : struct => values.TryGetValue(key, out var value) ? value : null;
}
