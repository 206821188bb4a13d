using MathNet.Numerics.LinearAlgebra;

namespace Acquire.Analysis.Plausibility;

/// <summary>Something that the process may have been doing: a distribution of the deviations of all patches and channels from aim.</summary>
/// <param name="Weight">Its share, all states together 1.</param>
/// <param name="Mean">Mean deviation.</param>
/// <param name="Covariance">Of the deviations.</param>
/// <param name="Direction">The signature of a single fault, whose amplitude is half-normal; null for none.</param>
/// <param name="Scale">Scale of the amplitude.</param>
internal sealed record ProcessState(double Weight, double[] Mean, Matrix<double> Covariance, double[]? Direction = null, double Scale = 1);
