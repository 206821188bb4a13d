namespace Acquire.Analysis.Statistics;

/// <summary>One column of a linear model.</summary>
/// <param name="Name">What it is, for the user.</param>
/// <param name="Values">Its value in each row.</param>
public sealed record Term(string Name, ImmutableArray<double> Values)
{
    /// <summary>Makes the columns of a factor: one for each level but the first, 1 where the row has the level and 0 elsewhere.</summary>
    /// <param name="name">The factor.</param>
    /// <param name="levels">The level of each row.</param>
    /// <param name="reference">The level that the others are compared with; null for the first in ordinal order.</param>
    public static ImmutableArray<Term> Factor(string name, IReadOnlyList<string> levels, string? reference = null)
    {
        ArgumentNullException.ThrowIfNull(levels);
        var all = levels.Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal).ToList();
        var first = reference ?? all.FirstOrDefault();
        return [.. all.Where(l => l != first).Select(l => new Term($"{name} {l}", [.. levels.Select(v => v == l ? 1.0 : 0.0)]))];
    }

    /// <summary>The product of two columns, for an interaction.</summary>
    public static Term operator *(Term left, Term right)
    {
        ArgumentNullException.ThrowIfNull(left);
        ArgumentNullException.ThrowIfNull(right);
        return new Term($"{left.Name} × {right.Name}", [.. left.Values.Zip(right.Values, (a, b) => a * b)]);
    }
}
