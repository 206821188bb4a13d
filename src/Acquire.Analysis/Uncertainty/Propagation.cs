namespace Acquire.Analysis.Uncertainty;

/// <summary>Uncertainty of results whose inputs go together (GUM 5.2.2, and for several results JCGM 102).</summary>
public static class Propagation
{
    /// <summary>Covariance of two results: Σᵢⱼ aᵢ Vᵢⱼ bⱼ.</summary>
    /// <param name="left">Sensitivities of the first result.</param>
    /// <param name="covariance">Covariance of the inputs.</param>
    /// <param name="right">Sensitivities of the second result; the same list for a variance.</param>
    public static double Covariance(IReadOnlyList<double> left, double[,] covariance, IReadOnlyList<double> right)
    {
        ArgumentNullException.ThrowIfNull(left);
        ArgumentNullException.ThrowIfNull(covariance);
        ArgumentNullException.ThrowIfNull(right);
        var sum = 0.0;
        for (var i = 0; i < left.Count; i++)
        {
            for (var j = 0; j < right.Count; j++)
            {
                sum += left[i] * covariance[i, j] * right[j];
            }
        }

        return sum;
    }

    /// <summary>Standard uncertainty of one result.</summary>
    public static double StandardUncertainty(IReadOnlyList<double> sensitivities, double[,] covariance) =>
        Math.Sqrt(Math.Max(0, Covariance(sensitivities, covariance, sensitivities)));
}
