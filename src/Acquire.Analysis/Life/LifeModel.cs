using Acquire.Analysis.Statistics;

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

    /// <summary>Strips that lie farther from the model than chance explains; most likely something else had happened to them.</summary>
    public ImmutableArray<Guid> Outlying => [.. Fit.Model.Outlying().Select(o => _rows[o.Index].Strip).OfType<Guid>()];

    /// <summary>What could not be told, in words.</summary>
    public ImmutableArray<string> LeftOut => _design.LeftOut;

    /// <summary>Scatter of a strip about the model.</summary>
    public double ResidualDeviation => Fit.Model.ResidualDeviation ?? 0;

    /// <summary>Youngest age among the strips, days.</summary>
    public double YoungestAge => _rows.Min(r => r.AgeDays);

    /// <summary>Oldest age among the strips, days.</summary>
    public double OldestAge => _rows.Max(r => r.AgeDays);

    /// <summary>Fits a model.</summary>
    /// <exception cref="ModelException">Fewer than four strips, or all of one age: the message says what is missing.</exception>
    public static LifeModel Of(ImmutableArray<LifeRow> rows)
    {
        if (rows.Length < FewestStrips)
        {
            throw new ModelException(string.Create(
                CultureInfo.InvariantCulture,
                $"{rows.Length} {(rows.Length == 1 ? "strip" : "strips")} with a known age; a life needs {FewestStrips} at least, at "
                + $"different ages. Run one early and one late in the life of a bottle."));
        }

        var design = LifeDesign.Of(rows);
        if (!design.Effects.Any(e => e.Name == LifeDesign.Age))
        {
            throw new ModelException(
                "All strips were run at one age of the solution, so nothing can be told of its life. Run one late in the life of a "
                + "bottle.");
        }

        // Strips of one bottle share what that mix had of its own, so a bottle counts for less than its strips.
        var least = Math.Sqrt(rows.Average(r => r.Reading * r.Reading));
        var fit = GroupedModel.Fit([.. rows.Select(r => r.Deviation)], design.Terms, [.. rows.Select(r => r.Bottle)], least);
        return new LifeModel(rows, design, fit);
    }

    /// <summary>Weights of the coefficients for the deviation at an age, used as fast as usual, the mean of the lots.</summary>
    /// <param name="ageDays">Days since mixing.</param>
    /// <param name="storage">How it is kept; null for the storage most strips have.</param>
    /// <param name="line">The line; null for the line most strips have.</param>
    /// <param name="method">The method; null for the one most strips have.</param>
    /// <exception cref="ModelException">No strip has the storage, line or method.</exception>
    public double[] Weights(double ageDays, string? storage = null, string? line = null, string? method = null)
    {
        Known(storage, "storage", r => r.Storage);
        Known(line, "line", r => r.Line);
        Known(method, "method", r => r.Method);
        var weights = new double[_design.Terms.Length + 1];
        weights[0] = 1;
        foreach (var effect in _design.Effects)
        {
            var level = effect.Name switch
            {
                LifeDesign.Storage or LifeDesign.Ageing => storage,
                LifeDesign.Line => line,
                LifeDesign.Method => method,
                _ => null,
            };
            foreach (var (place, column) in effect.Columns.Index())
            {
                weights[column + 1] = effect.Name switch
                {
                    LifeDesign.Age => ageDays,
                    // Use goes along with age: a life is wanted at the pace at which film goes through, not at a use held still.
                    LifeDesign.Area => UseOf(storage).At(ageDays),
                    LifeDesign.Lot => 1.0 / effect.Levels.Length,
                    _ when !Keys.Same(level, effect.Levels[place + 1]) => 0,
                    LifeDesign.Ageing => ageDays,
                    _ => 1,
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
    public RatioInterval Reaches(
        double deviation, string? storage = null, string? line = null, string? method = null, double confidence = 0.95)
    {
        var (start, slope) = Line(storage, line, method);
        return Ratio(
            deviation, start, slope,
            (a, b) => Fit.Model.Covariance(a, b) ?? 0,
            Quantiles.Student((1 + confidence) / 2, Fit.DegreesOfFreedom));
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
        // What further strips would show is not known, but how far they would narrow the interval is, by their age.
        double Cov(double[] a, double[] b) => Fit.Model.Covariance(a, b) ?? 0;

        // Sherman and Morrison: equal rows more on the inverse. Where nothing scatters, they narrow nothing.
        var own = (ResidualDeviation * ResidualDeviation / more) + Cov(row, row);
        return Ratio(
            deviation, start, slope,
            (a, b) => own > 0 ? Cov(a, b) - (Cov(a, row) * Cov(b, row) / own) : 0,
            Quantiles.Student((1 + confidence) / 2, Fit.DegreesOfFreedom + more));
    }

    /// <summary>The age up to which the mean is inside a limit with the confidence asked for: there the interval of the mean first touches
    /// it. It begins with the youngest strips, as no strip tells of what was before.</summary>
    /// <returns>Days, 0 when it is not inside even there; <paramref name="farthest"/> when it is not touched before.</returns>
    public double InsideAtLeast(Limit limit, double farthest, string? storage = null, double confidence = 0.95)
    {
        var factor = Quantiles.Student((1 + confidence) / 2, Fit.DegreesOfFreedom);
        var begin = Math.Min(YoungestAge, farthest);
        // Walked and not solved for: the interval of the mean widens at both ends, so it may touch the limit more than once.
        var step = (farthest - begin) / 1000;
        for (var i = 0; i <= 1000; i++)
        {
            var (value, error) = At(begin + (i * step), storage);
            if (!limit.Holds(value + (factor * error)) || !limit.Holds(value - (factor * error)))
            {
                return i == 0 ? 0 : begin + ((i - 1) * step);
            }
        }

        return farthest;
    }

    /// <summary>The effects, as differences over what the strips had.</summary>
    public ImmutableArray<LifeEffect> Effects(double limitWidth) =>
        [.. new LifeEffects(this, _design, limitWidth).All.OrderByDescending(e => Math.Abs(e.Size))];

    /// <summary>What a bottle has of its own beside the model.</summary>
    public double OwnOf(string bottle)
    {
        var mine = _rows.Where(r => Keys.Same(r.Bottle, bottle)).ToList();
        return mine.Count == 0 ? 0 : Fit.OwnOf(mine.Count, mine.Average(r => r.Deviation - RowValue(r)));
    }

    /// <summary>Standard uncertainty of what a bottle has of its own: all that mixes differ by while no strip of it is known.</summary>
    public double OwnUncertainty(string bottle)
    {
        var mine = _rows.Count(r => Keys.Same(r.Bottle, bottle));
        return ResidualDeviation * Math.Sqrt(Fit.Ratio / (1 + (Fit.Ratio * mine)));
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

    /// <summary>Whether ways of keeping age at speeds of their own.</summary>
    public bool HasSpeeds => _design.Effects.Any(e => e.Name == LifeDesign.Ageing);

    /// <summary>Whether each bottle has one level of a factor only, so that bottles and not strips tell of it.</summary>
    /// <param name="factor">storage, line or method.</param>
    public bool IsBetweenBottles(string factor) => _rows.GroupBy(r => r.Bottle, StringComparer.OrdinalIgnoreCase)
        .All(g => g.Select(r => LevelOf(r, factor)).Distinct(StringComparer.Ordinal).Count() == 1);

    /// <summary>The levels of a factor among the strips, whether the model tells them apart or not.</summary>
    /// <param name="factor">storage, line or method.</param>
    public ImmutableArray<string> RowLevels(string factor) =>
        [.. _rows.Select(r => LevelOf(r, factor)).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)];

    /// <summary>The levels of a factor that the model tells apart, the commonest first; empty when it does not.</summary>
    /// <param name="factor">storage, line or method.</param>
    public ImmutableArray<string> LevelsOf(string factor) => _design.Effects.FirstOrDefault(e => e.Name == factor)?.Levels ?? [];

    /// <summary>How film goes through bottles kept so: a bottle filled by half sees twice the
    /// film per litre, and its life is wanted as it is used.</summary>
    /// <param name="storage">How it is kept; null for the storage most strips have.</param>
    public LifeUse UseOf(string? storage)
    {
        var kept = LevelsOf(LifeDesign.Storage) is [var commonest, ..] ? storage ?? commonest : null;
        return LifeUse.Of([.. _rows.Where(r => kept is null || Keys.Same(r.Storage ?? LifeDesign.NotTold, kept))]);
    }

    private RatioInterval Ratio(
        double deviation, double[] start, double[] slope, Func<double[], double[], double> covariance, double factor) => RatioInterval.Of(
        deviation - Fit.Model.Combine(start).Value, Fit.Model.Combine(slope).Value, covariance(start, start),
        covariance(slope, slope), -covariance(start, slope), factor);

    private (double[] Start, double[] Slope) Line(string? storage, string? line, string? method)
    {
        // A straight line in age is known by two of its points, so use that goes along with age needs no case of its own.
        var (start, next) = (Weights(0, storage, line, method), Weights(1, storage, line, method));
        return (start, [.. next.Zip(start, (a, b) => a - b)]);
    }

    private double RowValue(LifeRow row)
    {
        var i = _rows.IndexOf(row);
        return Fit.Model.Coefficients[0] + _design.Terms.Select((t, j) => t.Values[i] * Fit.Model.Coefficients[j + 1]).Sum();
    }

    private static string LevelOf(LifeRow row, string factor) => factor switch
    {
        LifeDesign.Storage => row.Storage,
        LifeDesign.Line => row.Line,
        LifeDesign.Method => row.Method,
        _ => throw new ArgumentOutOfRangeException(nameof(factor), factor, null),
    } ?? LifeDesign.NotTold;

    private void Known(string? level, string factor, Func<LifeRow, string?> of)
    {
        if (level is not null && !_rows.Any(r => Keys.Same(level, of(r) ?? LifeDesign.NotTold)))
        {
            throw new ModelException(
                $"No strip tells of {factor} '{level}'; there is "
                + $"{string.Join("; ", _rows.Select(r => of(r) ?? LifeDesign.NotTold).Distinct().Order(StringComparer.Ordinal))}.");
        }
    }
}
