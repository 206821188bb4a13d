namespace Acquire.Bench.Books;

/// <summary>Finds what a user names: in any case, and by a beginning that fits one only.</summary>
public static class BookNames
{
    /// <summary>
    /// The bottle of a name. Of several that bore it in turn, the one in use at the moment, or else the last filled until then.
    /// </summary>
    /// <exception cref="BenchException">There is none, or a beginning fits several.</exception>
    public static Bottle Bottle(Ledger books, string name, DateTimeOffset at) =>
        TryBottle(books, name, at) ?? throw None("bottle", name, books.Bottles.Select(b => b.Name), "acquire bottle fill NAME");

    /// <summary>The same; null when there is none such.</summary>
    public static Bottle? TryBottle(Ledger books, string name, DateTimeOffset at)
    {
        if (One(name, books.Bottles.Select(b => b.Name)) is not { } found)
        {
            return null;
        }

        // The name on the glass stays when the solution goes, so the moment decides which filling is meant.
        var all = books.Bottles.Where(b => Same(b.Name, found)).ToList();
        return all.LastOrDefault(b => b.HappenedAt <= at && !(books.DiscardedAt(b) <= at))
            ?? all.LastOrDefault(b => b.HappenedAt <= at)
            ?? all[0];
    }

    /// <summary>The line of a name.</summary>
    /// <exception cref="BenchException">There is none, or a beginning fits several.</exception>
    public static ProcessLine Line(Ledger books, string name) =>
        TryLine(books, name) ?? throw None("line", name, books.Lines.Select(l => l.Name), "acquire line add NAME --process c41");

    /// <summary>The same; null when there is none such.</summary>
    public static ProcessLine? TryLine(Ledger books, string name) =>
        One(name, books.Lines.Select(l => l.Name)) is { } found ? books.Lines.First(l => Same(l.Name, found)) : null;

    /// <summary>The mix of a name.</summary>
    /// <exception cref="BenchException">There is none, or a beginning fits several.</exception>
    public static Solution Solution(Ledger books, string name) =>
        One(name, books.Solutions.Select(s => s.Name)) is { } found
            ? books.Solutions.First(s => Same(s.Name, found))
            : throw None("solution", name, books.Solutions.Select(s => s.Name), "acquire solution mix NAME --volume 1L");

    /// <summary>The names that look like one, the most alike first; three at most.</summary>
    public static ImmutableArray<string> Near(string name, IEnumerable<string> names) =>
    [
        .. names.Distinct(StringComparer.OrdinalIgnoreCase)
            .Select(n => (Name: n, Distance: Distance(name.Trim().ToUpperInvariant(), n.ToUpperInvariant())))
            .Where(n => n.Distance <= Math.Max(1, n.Name.Length / 3)
                || n.Name.Contains(name.Trim(), StringComparison.OrdinalIgnoreCase)
                || name.Contains(n.Name, StringComparison.OrdinalIgnoreCase))
            .OrderBy(n => n.Distance).Take(3).Select(n => n.Name),
    ];

    /// <summary>What could have been named, for who named nothing.</summary>
    /// <param name="add">The command that adds the first one.</param>
    internal static string InUse(IEnumerable<string> names, string add) => names.ToList() is { Count: > 0 } all
        ? $"In use: {string.Join(", ", all)}."
        : $"The books have none in use at that time. Add one first: {add}";

    /// <summary>Whether two names are the same.</summary>
    internal static bool Same(string one, string other) => string.Equals(one.Trim(), other.Trim(), StringComparison.OrdinalIgnoreCase);

    /// <summary>The name itself, or the only one that begins so; null when there is none or more than one.</summary>
    private static string? One(string name, IEnumerable<string> names)
    {
        var all = names.Distinct(StringComparer.OrdinalIgnoreCase).ToList();
        if (all.FirstOrDefault(n => Same(n, name)) is { } exact)
        {
            return exact;
        }

        var wanted = name.Trim();
        var begun = wanted.Length == 0 ? [] : all.Where(n => n.StartsWith(wanted, StringComparison.OrdinalIgnoreCase)).ToList();
        return begun.Count == 1 ? begun[0] : null;
    }

    private static BenchException None(string what, string name, IEnumerable<string> names, string add)
    {
        var known = names.Distinct(StringComparer.OrdinalIgnoreCase).ToList();
        var begun = known.Where(n => n.StartsWith(name.Trim(), StringComparison.OrdinalIgnoreCase)).ToList();
        if (begun.Count > 1)
        {
            return new BenchException($"'{name}' fits more than one {what}: {string.Join(", ", begun)}. Type more of it.");
        }

        var near = Near(name, known);
        var has = known.Count == 0 ? "the books have none yet"
            : near.IsEmpty ? $"the books have {string.Join(", ", known)}" : $"did you mean {string.Join(" or ", near)}?";
        return new BenchException(
            $"There is no {what} '{name}'; {has}{(has.EndsWith('?') ? "" : ".")} To add one: {add}") { IsNotThere = true };
    }

    /// <summary>How many letters must be put in, left out or changed.</summary>
    private static int Distance(string one, string other)
    {
        var row = Enumerable.Range(0, other.Length + 1).ToArray();
        for (var i = 1; i <= one.Length; i++)
        {
            var (diagonal, left) = (row[0], row[0] = i);
            for (var j = 1; j <= other.Length; j++)
            {
                var best = Math.Min(Math.Min(row[j], left) + 1, diagonal + (one[i - 1] == other[j - 1] ? 0 : 1));
                (diagonal, row[j], left) = (row[j], best, best);
            }
        }

        return row[^1];
    }
}
