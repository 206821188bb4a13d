using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Life;

/// <summary>How film goes through a bottle as it ages, on the mean: a straight line through what the strips saw.</summary>
/// <param name="Start">Area at age 0, m² per litre: film of the first evening.</param>
/// <param name="PerDay">Area per day, m² per litre; 0 where the area is not known of every strip.</param>
public readonly record struct LifeUse(double Start, double PerDay)
{
    /// <summary>Whether anything is known.</summary>
    public bool IsKnown => PerDay > 0;

    /// <summary>The area at an age, m² per litre.</summary>
    public double At(double ageDays) => Start + (PerDay * ageDays);

    /// <summary>Finds it; where older strips did not see more film, from the sums alone.</summary>
    public static LifeUse Of(ImmutableArray<LifeRow> rows)
    {
        var ages = rows.Sum(r => r.AgeDays);
        if (rows.IsEmpty || ages <= 0 || rows.Any(r => r.AreaPerLitre is null))
        {
            return default;
        }

        double[] areas = [.. rows.Select(r => r.AreaPerLitre!.Value)];
        if (rows.Select(r => r.AgeDays).Distinct().Skip(1).Any())
        {
            var fit = LeastSquares.Fit(areas, [new Term("age in days", [.. rows.Select(r => r.AgeDays)])]);
            if (fit.Coefficients[1] > 0)
            {
                return new LifeUse(fit.Coefficients[0], fit.Coefficients[1]);
            }
        }

        return new LifeUse(0, areas.Sum() / ages);
    }
}
