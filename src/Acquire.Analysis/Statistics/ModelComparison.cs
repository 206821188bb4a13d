namespace Acquire.Analysis.Statistics;

/// <summary>What more terms add to a model that is part of a larger one.</summary>
/// <param name="Extra">Squares that the further terms explain.</param>
/// <param name="Residual">Squares about the larger model.</param>
public sealed record ModelComparison(SquaresRow Extra, SquaresRow Residual)
{
    /// <summary>Mean square of the further terms over the residual one; null without degrees of freedom or scatter.</summary>
    public double? F => Residual.MeanSquare is > 0 and { } residual ? Extra.MeanSquare / residual : null;

    /// <summary>Chance of an F this large when the further terms do nothing.</summary>
    public double? P => F is { } f ? Quantiles.FisherTail(f, Extra.DegreesOfFreedom, Residual.DegreesOfFreedom) : null;

    /// <summary>Compares two models of the same rows.</summary>
    public static ModelComparison Of(LinearModel smaller, LinearModel larger)
    {
        ArgumentNullException.ThrowIfNull(smaller);
        ArgumentNullException.ThrowIfNull(larger);
        return new ModelComparison(
            new SquaresRow(
                Math.Max(0, smaller.Residual.SumOfSquares - larger.Residual.SumOfSquares),
                smaller.Residual.DegreesOfFreedom - larger.Residual.DegreesOfFreedom),
            larger.Residual);
    }
}
