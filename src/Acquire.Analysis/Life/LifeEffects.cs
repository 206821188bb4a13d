using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Life;

/// <summary>The coefficients of a life model as differences that a user can picture.</summary>
internal sealed class LifeEffects(LifeModel model, LifeDesign design, Limit limit)
{
    public IEnumerable<LifeEffect> All =>
        design.Effects.SelectMany(e => e.Name is LifeDesign.Age or LifeDesign.Area ? [Covariate(e)] : Levels(e));

    private ImmutableArray<double> Ages => design.Terms[design.Effects.First(e => e.Name == LifeDesign.Age).Columns[0]].Values;

    private LifeEffect Covariate(LifeDesign.Effect effect)
    {
        var values = design.Terms[effect.Columns[0]].Values;
        var (low, high) = (values.Min(), values.Max());
        var name = effect.Name == LifeDesign.Age
            ? FormattableString.Invariant($"age, {low:0.#} to {high:0.#} days")
            : FormattableString.Invariant($"use, {low:0.##} to {high:0.##} m² per litre");
        return Of(
            effect, effect.Name == LifeDesign.Age && model.HasSpeeds ? $"{name}, {model.LevelsOf(LifeDesign.Storage)[0]}" : name,
            [(effect.Columns[0], high - low)]);
    }

    private IEnumerable<LifeEffect> Levels(LifeDesign.Effect effect) => effect.Columns.Select((column, i) =>
    {
        var (level, against) = (effect.Levels[i + 1], effect.Levels[0]);
        var name = effect.Name == LifeDesign.Ageing
            ? FormattableString.Invariant($"faster ageing over {Ages.Max() - Ages.Min():0.#} days, {level} against {against}")
            : $"{effect.Name} {level} against {against}";

        // Where ways of keeping age at their own speeds, they are compared at the mean age: at age 0 they are alike.
        return Of(effect, name, effect.Name switch
        {
            LifeDesign.Ageing => [(column, Ages.Max() - Ages.Min())],
            LifeDesign.Storage when design.Effects.FirstOrDefault(e => e.Name == LifeDesign.Ageing) is { } ageing =>
                [(column, 1), (ageing.Columns[i], Ages.Average())],
            _ => [(column, 1)],
        }) with { Level = level, Against = against };
    });

    private LifeEffect Of(LifeDesign.Effect effect, string name, (int Column, double Weight)[] sum)
    {
        var weights = new double[design.Terms.Length + 1];
        foreach (var (column, weight) in sum)
        {
            weights[column + 1] = weight;
        }

        var (size, error) = model.Fit.Model.Combine(weights);
        var freedom = model.Fit.DegreesOfFreedom;
        return new LifeEffect(
            name, size, Quantiles.Student(0.975, freedom) * (error ?? 0),
            error is > 0 ? Quantiles.StudentTail(size / error.Value, freedom) : null,
            (size < 0 ? -limit.Lower : limit.Upper) is > 0 and { } width ? Math.Abs(size) / width : null) { Factor = effect.Name };
    }
}

/// <summary>What something did to a parameter.</summary>
/// <param name="Name">What, for the user.</param>
/// <param name="Size">Change of the deviation.</param>
/// <param name="Margin">Half-width of its 95 % interval.</param>
/// <param name="P">Chance of so large a change when there is none; null without degrees of freedom.</param>
/// <param name="LimitShare">Size against the width of the action limit on the side it moves to, 1 for
/// the whole way from aim to limit; null where that side has no limit.</param>
public sealed record LifeEffect(string Name, double Size, double Margin, double? P, double? LimitShare)
{
    /// <summary>What kind of thing it is of: age, area, storage, line, method, lot, ageing by storage.</summary>
    public required string Factor { get; init; }

    /// <summary>The level of a factor; null for age and area.</summary>
    public string? Level { get; init; }

    /// <summary>The level that it is compared with; null for age and area.</summary>
    public string? Against { get; init; }

    /// <summary>Whether it tells of strips and not of what the user does: lots differ by the errors of their aims.</summary>
    public bool IsNuisance => Factor == LifeDesign.Lot;

    /// <summary>Whether its interval leaves out 0.</summary>
    public bool IsClear => Math.Abs(Size) > Margin;
}
