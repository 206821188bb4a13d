using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Life;

/// <summary>A change at once that nobody wrote down, as the other explanation of what looks like ageing.</summary>
/// <param name="After">When the last strip before it ran.</param>
/// <param name="Before">When the first strip after it ran.</param>
/// <param name="Probability">Probability of a jump at any place against ageing in any shape, no third being thought of.</param>
public sealed record LifeJump(DateTimeOffset After, DateTimeOffset Before, double Size, double Probability)
{
    /// <summary>How likely a jump is before any strip: judgement, no source. Methods change less often than solutions age.</summary>
    private const double Prior = 0.25;

    /// <summary>A jump that is less likely is not worth a word.</summary>
    private const double WorthAWord = 0.05;

    /// <summary>More places than this are passed over evenly.</summary>
    private const int MostPlaces = 40;

    /// <summary>Whether it should be thought of.</summary>
    public bool IsWorthAWord => Probability >= WorthAWord;

    /// <summary>Whether it explains the strips better than ageing does.</summary>
    public bool IsLikelier => Probability > 0.5;

    /// <summary>Looks for the likeliest place; null where the strips have no times or are too few.</summary>
    public static LifeJump? Of(LifeModel straight)
    {
        var order = Enumerable.Range(0, straight.Rows.Length).OrderBy(i => straight.Rows[i].At).ToArray();
        if (order.Length < LifeModel.FewestStrips || straight.Rows.Any(r => r.At is null))
        {
            return null;
        }

        var without = straight.SquaresWithoutAge / order.Length;
        // By the same marginal likelihood as shapes are weighed; each column that is fitted has its price, √(n + 1).
        double Log(SquaresRow residual, int columns) =>
            (-(residual.DegreesOfFreedom + columns) / 2.0 * Math.Log(Math.Max(residual.SumOfSquares + without, double.Epsilon)))
            - (columns / 2.0 * Math.Log(order.Length + 1));
        var ageing = LifeShape.Among(straight.YoungestAge, straight.OldestAge)
            .Select(s => (straight.With(s), s.Prior))
            .Where(m => m.Item1 is not null)
            .Select(m => Math.Log((1 - Prior) * m.Prior)
                + Log(m.Item1!.Fit.Model.Residual, straight.AgeColumns))
            .ToList();
        var step = Math.Max(1, (order.Length - 1) / MostPlaces);
        var jumps = new List<(int Place, double Size, double Log)>();
        var places = Enumerable.Range(1, order.Length - 1).Where(p => p % step == 0 || step == 1).ToList();
        foreach (var place in places)
        {
            var later = order[place..].ToHashSet();
            if (straight.InsteadOfAge(new Term("jump", [.. order.Select((_, i) => later.Contains(i) ? 1.0 : 0)])) is { } model)
            {
                jumps.Add((place, model.Coefficients[1],
                    Math.Log(Prior / places.Count) + Log(model.Residual, 1)));
            }
        }

        if (jumps.Count == 0)
        {
            return null;
        }

        var most = Math.Max(ageing.Max(), jumps.Max(j => j.Log));
        var (all, jumped) = (ageing.Sum(l => Math.Exp(l - most)), jumps.Sum(j => Math.Exp(j.Log - most)));
        var best = jumps.MaxBy(j => j.Log);
        return new LifeJump(
            straight.Rows[order[best.Place - 1]].At!.Value, straight.Rows[order[best.Place]].At!.Value, best.Size, jumped / (all + jumped));
    }
}
