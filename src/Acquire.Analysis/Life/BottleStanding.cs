using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Life;

/// <summary>Where one bottle stands now, by the strips of it and of those before it. It
/// judges densities and never says that a solution is safe.</summary>
/// <param name="AgeDays">Its age now, in days.</param>
/// <param name="Worst">The parameter and channel that is most likely to be past its action limit; null when nothing can be told.</param>
/// <param name="Deviation">The deviation that a strip would show now on the mean; not a number without <paramref name="Worst"/>.</param>
/// <param name="InsideProbability">Probability that it is inside its action limit.</param>
/// <param name="DaysLeft">Days until it reaches the limit, from now, with the interval
/// of the kind of solution; null when none can be named.</param>
public sealed record BottleStanding(
    string Bottle, double AgeDays, LifeAnswer? Worst, double Deviation, double StandardUncertainty, double InsideProbability,
    LifeSpan? DaysLeft)
{
    /// <summary>The way of keeping that it is reckoned by, where the books do not tell its own; null where they do, or where all that is
    /// known is kept alike.</summary>
    public string? ReckonedAs { get; init; }

    /// <summary>How it is kept, where no strip ran in a bottle kept so: strips of one way of keeping tell nothing of another. Null
    /// otherwise.</summary>
    public string? UnseenStorage { get; init; }

    /// <summary>Finds where a bottle stands.</summary>
    /// <param name="study">The lives of its kind of solution.</param>
    /// <param name="ageDays">Days since its solution was mixed.</param>
    /// <param name="storage">How it is kept; null where the books do not tell.</param>
    public static BottleStanding Of(LifeStudy study, string bottle, double ageDays, string? storage = null)
    {
        if (storage is not null && !study.Storages.IsEmpty && !study.Storages.Contains(storage))
        {
            return Nothing(bottle, ageDays) with { UnseenStorage = storage };
        }

        return Seen(study, bottle, ageDays, study.Storages.IsEmpty ? null : storage) with
        {
            ReckonedAs = storage is null && study.Reckoned is { } other and not LifeDesign.NotTold ? other : null,
        };
    }

    private static BottleStanding Nothing(string bottle, double ageDays) =>
        new(bottle, ageDays, null, double.NaN, double.NaN, double.NaN, null);

    private static BottleStanding Seen(LifeStudy study, string bottle, double ageDays, string? storage)
    {
        return study.Answers.Where(a => a is { Votes: true, Curve: not null }).Select(a => Of(a, bottle, ageDays, storage)).MinBy(
            s => s.InsideProbability)
            ?? Nothing(bottle, ageDays);
    }

    private static BottleStanding Of(LifeAnswer answer, string bottle, double ageDays, string? storage)
    {
        var (model, curve) = (answer.Model!, answer.Curve!);
        (double Value, double Error) own = (model.OwnOf(bottle), model.OwnUncertainty(bottle));
        var (mean, ofMean) = curve.At(ageDays, storage);
        var risk = answer.IsTold ? LifeRisk.Of(answer.Risk!.Ages, age => curve.Outside(answer.Limit, age, storage, own)) : null;
        return new BottleStanding(
            bottle, ageDays, answer, mean + own.Value, Math.Sqrt((ofMean * ofMean) + (own.Error * own.Error)),
            1 - curve.Outside(answer.Limit, ageDays, storage, own), risk?.Span()?.From(ageDays));
    }
}

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
