using MathNet.Numerics.LinearAlgebra;

namespace Acquire.Analysis.Causes;

/// <summary>A fault's pattern over the cells of one strip, with how far it may differ from its row.</summary>
/// <remarks>Rows are rough, and no two films and tanks are alike: each patch and colour may be off by a third to a half of
/// what is stated, neighbours together, and a patch that is not said to move may move a little. Judgement, no source.</remarks>
internal sealed class FaultPattern
{
    private const double ByPatch = 0.25;
    private const double ByColour = 0.20;
    private const double ByCell = 0.15;
    private const double Unstated = 0.10;

    public FaultPattern(Evidence evidence, FaultSignature fault)
    {
        Fault = fault;
        Direction = evidence.Build(c => fault.Size(c.PatchKey, c.Channel));
        var unstated = Unstated * Direction.AbsoluteMaximum();
        Spread = evidence.Build((i, j) =>
        {
            var (a, b) = (evidence.Cells[i], evidence.Cells[j]);
            var (patch, colour, cell) = (Keys.Same(a.PatchKey, b.PatchKey), a.Channel == b.Channel, i == j);
            return (Direction[i] * Direction[j] * (Square(patch, ByPatch) + Square(colour, ByColour) + Square(cell, ByCell)))
                + Square(patch, unstated) / 2 + (Square(cell, unstated) / 2);
        });
    }

    public FaultSignature Fault { get; }

    /// <summary>What it does at size 1.</summary>
    public Vector<double> Direction { get; }

    /// <summary>Covariance of what it does beside, at size 1.</summary>
    public Matrix<double> Spread { get; }

    private static double Square(bool holds, double size) => holds ? size * size : 0;
}

/// <summary>Faults of the table, alone and two at once.</summary>
internal static class FaultCandidates
{
    /// <summary>Half the usual size and twice that are taken as equally likely: log-normal. Judgement.</summary>
    private static readonly double SizeSpread = Math.Log(2);

    private const double LeastSize = 0.15;
    private const double MostSize = 8;

    /// <summary>Pairs that fit worst are not worth the work.</summary>
    private const int PairsWeighed = 60;

    private static readonly ImmutableArray<(double Size, double LogWeight)> Sizes = Grid();

    /// <summary>Each fault by itself.</summary>
    /// <param name="share">How probable it is that one fault is at work.</param>
    public static IEnumerable<Candidate> Single(Evidence evidence, ImmutableArray<FaultPattern> patterns, double share)
    {
        // Shares of one whole: a process with more known faults must not look likelier to have one.
        var whole = patterns.Sum(p => p.Fault.Commonness);
        foreach (var pattern in patterns)
        {
            double[] logs =
                [.. Sizes.Select(s => s.LogWeight + evidence.LogDensity(
                    s.Size * pattern.Direction, evidence.Scatter + (s.Size * s.Size * pattern.Spread)))];
            var size = Sizes[Array.IndexOf(logs, logs.Max())].Size;
            yield return new Candidate([pattern.Fault], Math.Log(share * pattern.Fault.Commonness / whole), Evidence.LogSum(logs))
            {
                Sizes = [size],
                Expected = size * pattern.Direction,
                Slack = size * pattern.Spread.Diagonal().PointwiseSqrt(),
            };
        }
    }

    /// <summary>Two faults of different families at once, those that fit best.</summary>
    /// <param name="share">How probable it is that two are at work.</param>
    public static IEnumerable<Candidate> Pairs(Evidence evidence, ImmutableArray<FaultPattern> patterns, double share)
    {
        var pairs = (from i in Enumerable.Range(0, patterns.Length)
                     from j in Enumerable.Range(i + 1, patterns.Length - i - 1)
                     where patterns[i].Fault.Family != patterns[j].Fault.Family
                     select (A: patterns[i], B: patterns[j])).ToList();
        var whole = pairs.Sum(p => p.A.Fault.Commonness * p.B.Fault.Commonness);
        // A first look with one covariance for all: patterns are off by some share of what the strip shows.
        var shown = evidence.Left(Vector<double>.Build.Dense(evidence.Cells.Length));
        var size = 0.04 * shown.DotProduct(shown) / shown.Count;
        var rough = evidence.Scatter + Matrix<double>.Build.DenseDiagonal(shown.Count, size);
        var first = new SizeFit(rough, shown);
        var solved = patterns.ToDictionary(p => p, p => first.Solve(p.Direction));
        var best = pairs
            .Select(p => (Pair: p, Fit: first.Of(p.A.Direction, p.B.Direction, solved[p.A], solved[p.B])))
            .OrderBy(p => p.Fit.Distance)
            .Take(PairsWeighed);
        foreach (var ((a, b), start) in best)
        {
            // Again, as large patterns may be off by more than small ones.
            var fit = new SizeFit(Covariance(start.A, start.B), shown).Of(a.Direction, b.Direction);
            var covariance = Covariance(fit.A, fit.B);
            var expected = (fit.A * a.Direction) + (fit.B * b.Direction);
            var log = evidence.LogDensity(expected, covariance) + Occam(covariance, fit.A * a.Direction, fit.B * b.Direction)
                + LogPrior(fit.A) + LogPrior(fit.B);
            yield return new Candidate(
                [a.Fault, b.Fault], Math.Log(share * a.Fault.Commonness * b.Fault.Commonness / whole), log)
            {
                Sizes = [fit.A, fit.B],
                Expected = expected,
                Slack = (covariance - evidence.Scatter).Diagonal().PointwiseMaximum(0).PointwiseSqrt(),
            };

            Matrix<double> Covariance(double sizeA, double sizeB) =>
                evidence.Scatter + (sizeA * sizeA * a.Spread) + (sizeB * sizeB * b.Spread);
        }
    }

    private static double LogPrior(double size) =>
        -0.5 * ((Math.Log(size) * Math.Log(size) / (SizeSpread * SizeSpread)) + Math.Log(2 * Math.PI * SizeSpread * SizeSpread));

    /// <summary>What is left of the prior of the sizes, Laplace's approximation in their logarithms.</summary>
    private static double Occam(Matrix<double> covariance, Vector<double> a, Vector<double> b)
    {
        var factor = covariance.Cholesky();
        var (solvedA, solvedB) = (factor.Solve(a), factor.Solve(b));
        var prior = 1 / (SizeSpread * SizeSpread);
        var determinant = (((a * solvedA) + prior) * ((b * solvedB) + prior)) - (a * solvedB * (a * solvedB));
        return Math.Log(2 * Math.PI) - (0.5 * Math.Log(determinant));
    }

    private static ImmutableArray<(double Size, double LogWeight)> Grid()
    {
        const int Nodes = 17;
        var nodes =
            Enumerable.Range(0, Nodes).Select(i => LeastSize * Math.Pow(MostSize / LeastSize, i / (Nodes - 1.0))).ToList();
        var whole = nodes.Sum(n => Math.Exp(LogPrior(n)));
        return [.. nodes.Select(n => (n, LogPrior(n) - Math.Log(whole)))];
    }

    /// <summary>The two sizes that fit best, least squares with both in their bounds.</summary>
    private sealed class SizeFit(Matrix<double> covariance, Vector<double> shown)
    {
        private readonly MathNet.Numerics.LinearAlgebra.Factorization.Cholesky<double> _factor = covariance.Cholesky();

        public Vector<double> Solve(Vector<double> direction) => _factor.Solve(direction);

        public (double A, double B, double Distance) Of(Vector<double> a, Vector<double> b) => Of(a, b, Solve(a), Solve(b));

        public (double A, double B, double Distance) Of(Vector<double> a, Vector<double> b, Vector<double> solvedA, Vector<double> solvedB)
        {
            var (aa, bb, ab, ay, by) = (a * solvedA, b * solvedB, a * solvedB, shown * solvedA, shown * solvedB);
            var determinant = Math.Max((aa * bb) - (ab * ab), 1e-9 * aa * bb);
            var sizeA = Math.Clamp(((bb * ay) - (ab * by)) / determinant, LeastSize, MostSize);
            var sizeB = Math.Clamp((by - (ab * sizeA)) / bb, LeastSize, MostSize);
            sizeA = Math.Clamp((ay - (ab * sizeB)) / aa, LeastSize, MostSize);
            return (sizeA, sizeB, (sizeA * sizeA * aa) + (sizeB * sizeB * bb) + (2 * sizeA * sizeB * ab) - (2 * sizeA * ay)
                - (2 * sizeB * by));
        }
    }
}
