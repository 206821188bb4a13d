using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Life;

/// <summary>The columns of a life model: what was included, and what had to be left out and why.</summary>
/// <param name="Terms">The columns, without the constant.</param>
/// <param name="Effects">Which columns belong to which effect.</param>
/// <param name="LeftOut">What could not be told, in words.</param>
internal sealed record LifeDesign(ImmutableArray<Term> Terms, ImmutableArray<LifeDesign.Effect> Effects, ImmutableArray<string> LeftOut)
{
    public const string Age = "age";
    public const string Area = "area";
    public const string Storage = "storage";
    public const string Line = "line";
    public const string Method = "method";
    public const string Lot = "lot";

    /// <summary>How much faster than the commonest way of keeping the others age.</summary>
    public const string Ageing = "ageing by storage";

    /// <summary>What stands for a level that a row does not tell.</summary>
    public const string NotTold = "not told";

    /// <summary>Ways of keeping get speeds of their own when chance alone makes them differ so seldom.</summary>
    private const double Unlikely = 0.05;

    /// <summary>A factor or covariate.</summary>
    /// <param name="Columns">Indices of its columns.</param>
    /// <param name="Levels">Levels of a factor, the one compared with first; empty for a covariate.</param>
    public sealed record Effect(string Name, ImmutableArray<int> Columns, ImmutableArray<string> Levels);

    /// <summary>Takes in age first, then what else differs between the rows: area, storage, line, method, lot,
    /// and a speed of ageing for each way of keeping where the rows bear out that they differ. What goes together
    /// with something taken in before is left out and said.</summary>
    public static LifeDesign Of(IReadOnlyList<LifeRow> rows)
    {
        var (terms, effects, leftOut) = (new List<Term>(), new List<Effect>(), new List<string>());
        Add(Age, [new Term("age in days", [.. rows.Select(r => r.AgeDays)])], []);
        if (rows.All(r => r.AreaPerLitre is not null))
        {
            Add(Area, [new Term("area in m² per litre", [.. rows.Select(r => r.AreaPerLitre!.Value)])], []);
        }
        else if (rows.Any(r => r.AreaPerLitre is not null))
        {
            leftOut.Add("The area used is not known of every strip, so its effect is not told from that of age.");
        }

        // The order decides what a later effect is refused for: how a bottle is kept and used is asked for, a lot only stands in the way.
        AddFactor(Storage, r => r.Storage);
        AddFactor(Line, r => r.Line);
        AddFactor(Method, r => r.Method);
        AddFactor(Lot, r => r.Lot);
        AddAgeing();
        return new LifeDesign([.. terms], [.. effects], [.. leftOut]);

        void AddFactor(string name, Func<LifeRow, string?> of)
        {
            string[] levels = [.. rows.Select(r => of(r) ?? NotTold)];
            var all = levels.CountBy(l => l).OrderByDescending(l => l.Value).ThenBy(l => l.Key, StringComparer.Ordinal).Select(l => l.Key)
                .ToImmutableArray();
            if (all.Length > 1)
            {
                Add(name, Term.Factor(name, levels, all[0]), [all[0], .. all.Skip(1).Order(StringComparer.Ordinal)]);
            }
        }

        void AddAgeing()
        {
            if (effects.Find(e => e.Name == Storage) is not { } storage || effects.Find(e => e.Name == Age) is not { } age)
            {
                return;
            }

            ImmutableArray<Term> columns = [.. storage.Columns.Select(c => terms[c] * terms[age.Columns[0]])];
            var chance = SpeedsP(rows, terms, columns);
            if (chance < Unlikely)
            {
                Add(Ageing, columns, storage.Levels);
            }
            else if (chance is null && effects.Exists(e => e.Name == Area))
            {
                leftOut.Add("Bottles kept otherwise saw another amount of film, so a speed of ageing of their own is not told from use.");
            }
        }

        void Add(string name, ImmutableArray<Term> columns, ImmutableArray<string> levels)
        {
            try
            {
                // Two degrees of freedom at least must be left, or nothing can be said of the scatter.
                if (rows.Count < terms.Count + columns.Length + 3)
                {
                    leftOut.Add($"There are too few strips to tell the effect of {name}.");
                    return;
                }

                // A trial fit: it throws, and names the column, where the effect cannot be told from those before.
                _ = LeastSquares.Fit([.. rows.Select(r => r.Deviation)], [.. terms, .. columns]);
                effects.Add(new Effect(name, [.. Enumerable.Range(terms.Count, columns.Length)], levels));
                terms.AddRange(columns);
            }
            catch (ModelException fault)
            {
                leftOut.Add(fault.Message);
            }
        }
    }

    /// <summary>Chance of speeds as different when they are alike; null when too few rows tell.</summary>
    private static double? SpeedsP(IReadOnlyList<LifeRow> rows, List<Term> terms, ImmutableArray<Term> columns)
    {
        if (rows.Count < terms.Count + columns.Length + 3)
        {
            return null;
        }

        double[] y = [.. rows.Select(r => r.Deviation)];
        try
        {
            return ModelComparison.Of(LeastSquares.Fit(y, terms), LeastSquares.Fit(y, [.. terms, .. columns])).P;
        }
        catch (ModelException)
        {
            // A speed of its own and a use of its own are the same column: the bottles kept one way saw so much more film per day than the
            // others.
            return null;
        }
    }
}

/// <summary>One strip as the life of a solution sees it.</summary>
/// <param name="Deviation">Deviation from aim of one parameter and channel.</param>
/// <param name="Lot">The strip lot: its aims have an error that all its strips share.</param>
/// <param name="AgeDays">Days since the solution was mixed.</param>
/// <param name="AreaPerLitre">Film area that went through before, m² per litre; null when the books do not tell.</param>
/// <param name="Storage">How the bottle is kept; null when not told.</param>
/// <param name="Line">The process line; null when not told.</param>
/// <param name="Method">The line's method; null when not told.</param>
/// <param name="Strip">The strip; null when it has no record.</param>
public sealed record LifeRow(
    double Deviation, string Bottle, string Lot, double AgeDays, double? AreaPerLitre = null, string? Storage = null,
    string? Line = null, string? Method = null, Guid? Strip = null)
{
    /// <summary>Standard uncertainty of reading the strip: strips scatter by that at least.</summary>
    public double Reading { get; init; }
}
