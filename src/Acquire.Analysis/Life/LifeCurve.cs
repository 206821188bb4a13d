using Acquire.Analysis.Uncertainty;

namespace Acquire.Analysis.Life;

/// <summary>How one parameter and channel goes with age when nobody knows the way: every shape by its weight, with what the aim itself
/// leaves open and what bottles differ by in speed.</summary>
public sealed class LifeCurve
{
    /// <summary>Ways of less weight change no answer.</summary>
    private const double Least = 0.005;

    /// <summary>How much faster or slower than the mean a mix ages, before any strip tells of it: judgement, no source.</summary>
    private const double UsualPace = 0.1;

    /// <summary>How much evidence that counts for.</summary>
    private const double PaceFreedom = 4;

    private readonly ImmutableArray<(LifeModel Model, double Weight)> _ways;
    private readonly double _aim;
    private readonly double _pace;
    private readonly double _paceFreedom;

    private LifeCurve(ImmutableArray<(LifeModel Model, double Weight)> ways, double aim, double pace, double paceFreedom) =>
        (_ways, _aim, _pace, _paceFreedom) = (ways, aim, pace, paceFreedom);

    /// <summary>The likeliest shape, and how likely its kind of bend is.</summary>
    public (LifeShape Shape, double Probability) Likeliest
    {
        get
        {
            var bend = _ways.GroupBy(w => w.Model.Shape.Bend).MaxBy(g => g.Sum(w => w.Weight))!;
            return (bend.MaxBy(w => w.Weight).Model.Shape, bend.Sum(w => w.Weight));
        }
    }

    /// <summary>Weighs every shape by its marginal likelihood, size and scatter integrated out: p ∝ prior · (S + S₀/n)^(−(ν+1)/2), with S
    /// the squares about the shape and S₀ those without any ageing (A. Zellner's g-prior with g = n; R. E. Kass and L. Wasserman,
    /// <i>J. Amer. Statist. Assoc.</i> 90, 1995; from memory).</summary>
    public static LifeCurve Of(LifeModel straight)
    {
        var without = straight.SquaresWithoutAge / straight.Rows.Length;
        var tried = new List<(LifeModel Model, double Log)>();
        foreach (var shape in LifeShape.Among(straight.YoungestAge, straight.OldestAge))
        {
            if (straight.With(shape) is { Fit.Model.Residual: var residual } model)
            {
                var squares = Math.Max(residual.SumOfSquares + without, double.Epsilon);
                tried.Add((model, Math.Log(shape.Prior) - ((residual.DegreesOfFreedom + 1) / 2.0 * Math.Log(squares))));
            }
        }

        var most = tried.Max(t => t.Log);
        var all = tried.Sum(t => Math.Exp(t.Log - most));
        var kept = tried.Select(t => (t.Model, Weight: Math.Exp(t.Log - most) / all)).Where(w => w.Weight >= Least).ToList();
        var sum = kept.Sum(w => w.Weight);
        var (pace, freedom) = Pace(straight);
        return new LifeCurve([.. kept.Select(w => (w.Model, w.Weight / sum))], straight.AimVariance, pace, freedom);
    }

    /// <summary>The true mean deviation at an age with its standard uncertainty, what the shapes differ by included.</summary>
    public (double Value, double StandardUncertainty) At(double ageDays, string? storage = null)
    {
        var each = _ways.Select(w => (w.Weight, At: One(w.Model, ageDays, storage))).ToList();
        var mean = each.Sum(e => e.Weight * e.At.Value);
        return (mean, Math.Sqrt(each.Sum(e => e.Weight * (e.At.Variance + ((e.At.Value - mean) * (e.At.Value - mean))))));
    }

    /// <summary>Probability that the true mean is past a limit at an age.</summary>
    /// <param name="own">What a bottle has of its own beside the mean, with its standard uncertainty.</param>
    public double Outside(Limit limit, double ageDays, string? storage = null, (double Value, double Error) own = default) =>
        _ways.Sum(w =>
        {
            var (value, variance, freedom) = One(w.Model, ageDays, storage);
            return w.Weight
                * (1 - Conformity.Inside(limit, value + own.Value, Math.Sqrt(variance + (own.Error * own.Error)), freedom));
        });

    private (double Value, double Variance, double Freedom) One(LifeModel model, double ageDays, string? storage)
    {
        var (value, error) = model.At(ageDays, storage);
        var change = value - model.At(model.YoungestAge, storage).Value;
        var (fit, pace) = (error * error, _pace * change * change);
        var all = fit + pace + _aim;
        // Welch and Satterthwaite: what is known of few strips weighs by its share.
        var weighted = (fit * fit / model.Fit.DegreesOfFreedom) + (pace * pace / _paceFreedom);
        return (value, all, weighted > 0 ? all * all / weighted : double.PositiveInfinity);
    }

    /// <summary>Relative variance of the mean speed of the bottles: what mixes differ by, as far as their own slopes tell beside what is
    /// usual, over how many there were.</summary>
    private static (double Variance, double Freedom) Pace(LifeModel model)
    {
        var (prior, slope) = (UsualPace * UsualPace, model.Slope().Value);
        var bottles = model.Rows.Zip(model.Fit.Model.Residuals)
            .GroupBy(r => r.First.Bottle, StringComparer.OrdinalIgnoreCase)
            .Select(g => Own([.. g]))
            .ToList();
        var telling = bottles.Where(b => b.Spread > 0).ToList();
        if (telling.Count < 2 || slope == 0)
        {
            return (prior / bottles.Count, PaceFreedom);
        }

        // A bottle's slope scatters by the strips alone; only what is left is the mix's own.
        var s = model.ResidualDeviation * model.ResidualDeviation;
        var freedom = telling.Count - 1;
        var own = Math.Max(0, (telling.Sum(b => b.Spread * b.Slope * b.Slope) - (s * freedom)) / telling.Sum(b => b.Spread));
        return (((PaceFreedom * prior) + (freedom * own / (slope * slope))) / (PaceFreedom + freedom) / bottles.Count,
            PaceFreedom + freedom);
    }

    private static (double Slope, double Spread) Own((LifeRow Row, double Left)[] bottle)
    {
        var (age, left) = (bottle.Average(b => b.Row.AgeDays), bottle.Average(b => b.Left));
        var spread = bottle.Sum(b => (b.Row.AgeDays - age) * (b.Row.AgeDays - age));
        return (spread > 0 ? bottle.Sum(b => (b.Row.AgeDays - age) * (b.Left - left)) / spread : 0, spread);
    }
}
