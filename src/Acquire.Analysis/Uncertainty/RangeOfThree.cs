using MathNet.Numerics.Distributions;
using MathNet.Numerics.Integration;

namespace Acquire.Analysis.Uncertainty;

/// <summary>The largest minus the smallest of three independent normal numbers with means and scatter of their
/// own: the colour spread of three uncertain deviations.</summary>
/// <remarks>By quadrature of P(R ≤ w) = Σᵢ ∫ φᵢ(x) Πⱼ≠ᵢ [Φⱼ(x + w) − Φⱼ(x)] dx, the i-th being the smallest at x. Three equal scatters and
/// no differences give the range distribution that control-chart constants come from.</remarks>
public static class RangeOfThree
{
    private const double FarOut = 8.5;
    private const int Panels = 8;

    /// <summary>Of each panel. The panels are narrow, so that more change nothing above 1e-9.</summary>
    private const int Nodes = 10;

    /// <summary>Probability that the range is no more than a width.</summary>
    /// <param name="width">The width; nothing is no more than a width below 0.</param>
    /// <param name="means">Three means.</param>
    /// <param name="deviations">Three standard deviations, 0 at least.</param>
    public static double Probability(double width, ReadOnlySpan<double> means, ReadOnlySpan<double> deviations)
    {
        if (width < 0)
        {
            return 0;
        }

        var (m, s) = (means.ToArray(), deviations.ToArray());
        var exact = Array.FindIndex(s, d => d == 0);
        return exact >= 0 ? WithOneKnown(width, m, s, exact) : Math.Clamp(Enumerable.Range(0, 3).Sum(i => Smallest(i, width, m, s)), 0, 1);
    }

    private static double Smallest(int i, double width, double[] m, double[] s)
    {
        var (j, k) = ((i + 1) % 3, (i + 2) % 3);
        return Integrate(
            m[i], s[i],
            x => Normal.PDF(m[i], s[i], x) * Between(x, x + width, m[j], s[j]) * Between(x, x + width, m[k], s[k]),
            [.. Steps(m[j], s[j], width), .. Steps(m[k], s[k], width)]);
    }

    /// <summary>Where the chance of lying in a sliding window rises or falls, steeply when the scatter is small.</summary>
    private static IEnumerable<double> Steps(double mean, double deviation, double width) =>
        from centre in new[] { mean, mean - width }
        from distance in new[] { -FarOut, -2, 0, 2, FarOut }
        select centre + (distance * deviation);

    /// <summary>One number is known: the others lie within a window of the width
    /// that holds it, which slides with the smaller of them.</summary>
    private static double WithOneKnown(double width, double[] m, double[] s, int known)
    {
        var (a, c, d) = (m[known], (known + 1) % 3, (known + 2) % 3);
        if (s[c] == 0 && s[d] == 0)
        {
            return m.Max() - m.Min() <= width * (1 + 1e-12) ? 1 : 0;
        }

        if (s[c] == 0)
        {
            (c, d) = (d, c);
        }

        // c scatters; the window left for d runs from max(a, c) − width to min(a, c) + width.
        return Math.Clamp(
            Integrate(m[c], s[c], x => Math.Abs(x - a) <= width
                ? Normal.PDF(m[c], s[c], x) * Between(Math.Max(a, x) - width, Math.Min(a, x) + width, m[d], s[d])
                : 0,
                [a - width, a, a + width, .. Steps(m[d], s[d], width), .. Steps(m[d] + width, s[d], width)]),
            0, 1);
    }

    private static double Between(double from, double to, double mean, double deviation) => deviation == 0
        ? mean >= from - 1e-12 && mean <= to + 1e-12 ? 1 : 0
        : Math.Max(0, Normal.CDF(mean, deviation, to) - Normal.CDF(mean, deviation, from));

    /// <summary>Over all that matters of a normal density, in panels that break where the integrand has a kink.</summary>
    private static double Integrate(double mean, double deviation, Func<double, double> f, params IEnumerable<double> kinks)
    {
        var (low, high) = (mean - (FarOut * deviation), mean + (FarOut * deviation));
        // A rule of fixed nodes is blind to a step between two of them, and small scatters make steps.
        var edges = Enumerable.Range(0, Panels + 1).Select(i => low + ((high - low) * i / Panels)).ToList();
        edges.AddRange(kinks.Where(k => k > low && k < high));
        edges.Sort();
        return edges.Zip(edges.Skip(1), (a, b) => b > a ? GaussLegendreRule.Integrate(f, a, b, Nodes) : 0).Sum();
    }
}
