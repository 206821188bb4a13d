using System.Collections.Immutable;
using Acquire.Analysis.Regression;
using Acquire.Analysis.Statistics;
using Acquire.Domain.Processes;

namespace Acquire.Analysis.Life;

/// <summary>How one parameter and channel moves with age, use, storage, line and method.</summary>
public sealed class LifeModel
{
    /// <summary>Fewer strips tell nothing of a slope and its scatter.</summary>
    public const int FewestStrips = 4;

    private readonly LifeDesign _design;
    private readonly ImmutableArray<LifeRow> _rows;

    private LifeModel(ImmutableArray<LifeRow> rows, LifeDesign design, GroupedModel fit) => (_rows, _design, Fit) = (rows, design, fit);

    /// <summary>The fitted model.</summary>
    public GroupedModel Fit { get; }

    /// <summary>What could not be told, in words.</summary>
    public ImmutableArray<string> LeftOut => _design.LeftOut;

    /// <summary>Scatter of a strip about the model.</summary>
    public double ResidualDeviation => Fit.Model.ResidualDeviation ?? 0;

    /// <summary>Mean of area over age where both are in the model: how fast film goes through, m² per litre and day; 0 otherwise.</summary>
    public double AreaPerDay { get; private init; }

    /// <summary>Oldest age among the strips, days.</summary>
    public double OldestAge => _rows.Max(r => r.AgeDays);

    /// <summary>Fits a model.</summary>
    /// <exception cref="ModelException">Fewer than four strips, or all of one age: the message says what is missing.</exception>
    public static LifeModel Of(ImmutableArray<LifeRow> rows)
    {
        if (rows.Length < FewestStrips)
        {
            throw new ModelException(FormattableString.Invariant(
                $"{rows.Length} {(rows.Length == 1 ? "strip" : "strips")} with a known age; a life needs {FewestStrips} at least, at different ages. Run one early and one late in the life of a bottle."));
        }

        var design = LifeDesign.Of(rows);
        if (!design.Effects.Any(e => e.Name == LifeDesign.Age))
        {
            throw new ModelException("All strips were run at one age of the solution, so nothing can be told of its life. Run one late in the life of a bottle.");
        }

        var fit = GroupedModel.Fit([.. rows.Select(r => r.Deviation)], design.Terms, [.. rows.Select(r => r.Bottle)]);
        return new LifeModel(rows, design, fit) { AreaPerDay = Rate(rows, design) };
    }

    /// <summary>Weights of the coefficients for the deviation at an age, used as fast as usual, the mean of the lots.</summary>
    /// <param name="ageDays">Days since mixing.</param>
    /// <param name="storage">How it is kept; null for the storage most strips have.</param>
    /// <param name="line">The line; null for the line most strips have.</param>
    /// <param name="method">The method; null for the one most strips have.</param>
    public double[] Weights(double ageDays, string? storage = null, string? line = null, string? method = null)
    {
        var weights = new double[_design.Terms.Length + 1];
        weights[0] = 1;
        foreach (var effect in _design.Effects)
        {
            var level = effect.Name switch { "storage" => storage, "line" => line, "method" => method, _ => null };
            foreach (var (place, column) in effect.Columns.Index())
            {
                weights[column + 1] = effect.Name switch
                {
                    LifeDesign.Age => ageDays,
                    LifeDesign.Area => ageDays * AreaPerDay,
                    "lot" => 1.0 / effect.Levels.Length,
                    _ => string.Equals(level, effect.Levels[place + 1], StringComparison.Ordinal) ? 1 : 0,
                };
            }
        }

        return weights;
    }

    /// <summary>The deviation that a strip of such a bottle would show on the mean, with its standard error.</summary>
    public (double Value, double StandardError) At(double ageDays, string? storage = null, string? line = null, string? method = null)
    {
        var (value, error) = Fit.Model.Combine(Weights(ageDays, storage, line, method));
        return (value, error ?? 0);
    }

    /// <summary>When the mean reaches a deviation, with the interval that the strips allow.</summary>
    public RatioInterval Reaches(double deviation, string? storage = null, string? line = null, string? method = null, double confidence = 0.95)
    {
        var (start, slope) = Line(storage, line, method);
        return Ratio(deviation, start, slope, (a, b) => Fit.Model.Covariance(a, b) ?? 0, Quantiles.Student((1 + confidence) / 2, Fit.DegreesOfFreedom));
    }

    /// <summary>Change of the deviation per day, with its standard error.</summary>
    public (double Value, double StandardError) Slope(string? storage = null, string? line = null, string? method = null)
    {
        var (value, error) = Fit.Model.Combine(Line(storage, line, method).Slope);
        return (value, error ?? 0);
    }

    /// <summary>The same interval as if more strips had been run at one age, the scatter being what it is.</summary>
    public RatioInterval ReachesWithMore(double deviation, double atAge, int more, string? storage = null, double confidence = 0.95)
    {
        var (start, slope) = Line(storage, null, null);
        var row = Weights(atAge, storage);
        double Cov(double[] a, double[] b) => Fit.Model.Covariance(a, b) ?? 0;

        // Sherman and Morrison: equal rows more on the inverse.
        var own = (ResidualDeviation * ResidualDeviation / more) + Cov(row, row);
        return Ratio(
            deviation,
            start,
            slope,
            (a, b) => Cov(a, b) - (Cov(a, row) * Cov(b, row) / own),
            Quantiles.Student((1 + confidence) / 2, Fit.DegreesOfFreedom + more));
    }

    /// <summary>
    /// The age up to which the mean is inside a limit with the confidence asked for: there the interval of the mean first touches it.
    /// </summary>
    /// <returns>Days, 0 at least; <paramref name="farthest"/> when it is not touched before.</returns>
    public double InsideAtLeast(Limit limit, double farthest, string? storage = null, double confidence = 0.95)
    {
        ArgumentNullException.ThrowIfNull(limit);
        var factor = Quantiles.Student((1 + confidence) / 2, Fit.DegreesOfFreedom);
        var step = farthest / 1000;
        for (var i = 0; i <= 1000; i++)
        {
            var (value, error) = At(i * step, storage);
            if (!limit.Holds(value + (factor * error)) || !limit.Holds(value - (factor * error)))
            {
                return Math.Max(0, i - 1) * step;
            }
        }

        return farthest;
    }

    /// <summary>The effects, as differences over what the strips had.</summary>
    public ImmutableArray<LifeEffect> Effects(double limitWidth) =>
    [
        .. _design.Effects.SelectMany(e => e.Name is LifeDesign.Age or LifeDesign.Area ? [Covariate(e, limitWidth)] : Levels(e, limitWidth))
            .OrderByDescending(e => Math.Abs(e.Size)),
    ];

    /// <summary>What a bottle has of its own beside the model.</summary>
    public double OwnOf(string bottle)
    {
        var mine = _rows.Where(r => string.Equals(r.Bottle, bottle, StringComparison.OrdinalIgnoreCase)).ToList();
        return mine.Count == 0 ? 0 : Fit.OwnOf(mine.Count, mine.Average(r => r.Deviation - RowValue(r)));
    }

    /// <summary>Chance of so strong a bend when the way is straight; null when it cannot be asked.</summary>
    public double? BendP()
    {
        if (_rows.Length < _design.Terms.Length + 4 || _rows.Select(r => r.AgeDays).Distinct().Count() < 3)
        {
            return null;
        }

        double[] y = [.. _rows.Select(r => r.Deviation)];
        try
        {
            var bent = LeastSquares.Fit(y, [.. _design.Terms, new Term("age squared", [.. _rows.Select(r => r.AgeDays * r.AgeDays)])]);
            return ModelComparison.Of(LeastSquares.Fit(y, _design.Terms), bent).P;
        }
        catch (ModelException)
        {
            return null;
        }
    }

    /// <summary>Chance of slopes as different between storages when they are alike; null when there is one storage, or too few strips.</summary>
    public double? StorageSlopesP()
    {
        if (_design.Effects.FirstOrDefault(e => e.Name == "storage") is not { } storage || _rows.Length < _design.Terms.Length + storage.Columns.Length + 3)
        {
            return null;
        }

        var age = _design.Terms[_design.Effects.First(e => e.Name == LifeDesign.Age).Columns[0]];
        double[] y = [.. _rows.Select(r => r.Deviation)];
        try
        {
            var apart = LeastSquares.Fit(y, [.. _design.Terms, .. storage.Columns.Select(c => _design.Terms[c] * age)]);
            return ModelComparison.Of(LeastSquares.Fit(y, _design.Terms), apart).P;
        }
        catch (ModelException)
        {
            return null;
        }
    }

    private static double Rate(ImmutableArray<LifeRow> rows, LifeDesign design) => design.Effects.Any(e => e.Name == LifeDesign.Area) && rows.Sum(r => r.AgeDays) > 0
        ? rows.Sum(r => r.AreaPerLitre!.Value) / rows.Sum(r => r.AgeDays)
        : 0;

    private RatioInterval Ratio(double deviation, double[] start, double[] slope, Func<double[], double[], double> covariance, double factor) => RatioInterval.Of(
        deviation - Fit.Model.Combine(start).Value,
        Fit.Model.Combine(slope).Value,
        covariance(start, start),
        covariance(slope, slope),
        -covariance(start, slope),
        factor);

    private (double[] Start, double[] Slope) Line(string? storage, string? line, string? method)
    {
        var (start, next) = (Weights(0, storage, line, method), Weights(1, storage, line, method));
        return (start, [.. next.Zip(start, (a, b) => a - b)]);
    }

    private double RowValue(LifeRow row)
    {
        var i = _rows.IndexOf(row);
        return Fit.Model.Coefficients[0] + _design.Terms.Select((t, j) => t.Values[i] * Fit.Model.Coefficients[j + 1]).Sum();
    }

    private LifeEffect Covariate(LifeDesign.Effect effect, double limitWidth)
    {
        var (column, values) = (effect.Columns[0] + 1, _design.Terms[effect.Columns[0]].Values);
        var range = values.Max() - values.Min();
        var margin = Quantiles.Student(0.975, Fit.DegreesOfFreedom) * (Fit.Model.StandardError(column) ?? 0) * range;
        var name = effect.Name == LifeDesign.Age ? FormattableString.Invariant($"age, {values.Min():0.#} to {values.Max():0.#} days")
            : FormattableString.Invariant($"use, {values.Min():0.##} to {values.Max():0.##} m² per litre");
        return LifeEffect.Of(name, Fit.Model.Coefficients[column] * range, margin, Fit.Model.PValue(column), limitWidth);
    }

    private IEnumerable<LifeEffect> Levels(LifeDesign.Effect effect, double limitWidth) => effect.Columns.Select((c, i) => LifeEffect.Of(
        $"{effect.Name} {effect.Levels[i + 1]} against {effect.Levels[0]}",
        Fit.Model.Coefficients[c + 1],
        Quantiles.Student(0.975, Fit.DegreesOfFreedom) * (Fit.Model.StandardError(c + 1) ?? 0),
        Fit.Model.PValue(c + 1),
        limitWidth));
}
