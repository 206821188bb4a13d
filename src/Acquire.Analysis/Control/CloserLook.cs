using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Control;

/// <summary>Weighs "this series moved" against "it stayed", for every strip at which it may have begun, for movements at once and little by
/// little, and for every memory that the process may have: how much of what moves one strip is still there in the next.</summary>
/// <remarks>
/// Normal regression whose errors have a memory, which is taken out first (generalised least squares). The level has a flat prior, the
/// movement a normal one in units of the scatter, the scatter one of few degrees of freedom about that of the readings, so that every
/// weight is a marginal likelihood in closed form. The odds have a mean of at most 1 as long as nothing moves, however often one looks, so
/// that they exceed A in at most one history of sixty strips in A (Ville, 1939): that is what the promise of few false movements rests on.
/// </remarks>
internal sealed class CloserLook
{
    /// <summary>Strips in which a movement runs its course: at once, or evenly over so many; the last never ends within a window. The
    /// weights, one half for "at once", are judgement, no source.</summary>
    public static readonly ImmutableArray<(int Length, double Weight)> Courses =
        [(1, 0.5), (4, 0.125), (10, 0.125), (25, 0.125), (int.MaxValue, 0.125)];

    /// <summary>A movement is expected once in so many strips, and no farther back is looked.</summary>
    public const int Window = 60;

    /// <summary>Standard deviation of a movement beforehand, in standard deviations of the process. Judgement, no source.</summary>
    private const double Size = 3;

    /// <summary>So many strips of each side are needed: one strip apart is no level.</summary>
    private const int Fewest = 2;

    /// <summary>What the scatter of the readings counts as evidence of the process' scatter.</summary>
    private const double PriorFreedom = 2;

    /// <summary>Single strips go astray somewhat more often than a bell curve has it, as Student's t of so many degrees of freedom does.
    /// Judgement, no source.</summary>
    private const double TailFreedom = 20;

    // A movement without end is counted by what it does in so many strips.
    private const double EndlessUnit = 20;

    private readonly double[,,] _weights;
    private readonly double[] _values;
    private readonly double _centre;
    private readonly double[] _squares = new double[StripMemory.All.Length];
    private double _freedom;
    private double _floor;

    private CloserLook(double[] values)
    {
        _values = values;
        _centre = values.Average();
        _weights = new double[StripMemory.All.Length, Math.Max(0, values.Length), Courses.Length];
    }

    /// <summary>Log likelihood of each memory if the series stayed.</summary>
    public double[] Stayed { get; } = new double[StripMemory.All.Length];

    /// <summary>Log likelihood of each memory if it moved somewhere, times what was expected of that beforehand.</summary>
    public double[] Moved { get; } = new double[StripMemory.All.Length];

    /// <summary>Looks into a window of a series.</summary>
    /// <param name="earlier">Stretches at other levels before, which tell of scatter and memory only.</param>
    /// <param name="present">The strips of the present level.</param>
    /// <param name="leastSigma">What readings alone scatter by; 0 when not known.</param>
    public static CloserLook Of(IReadOnlyList<double[]> earlier, double[] present, double leastSigma)
    {
        var look = new CloserLook(present);
        for (var m = 0; m < StripMemory.All.Length; m++)
        {
            look.Weigh(m, earlier, leastSigma);
        }

        return look;
    }

    /// <summary>The odds that it moved, by this series and what is known of the memory.</summary>
    /// <param name="memory">Log weights of the memories.</param>
    public double LogOdds(IReadOnlyList<double> memory) =>
        LogSum(Moved.Zip(memory, (l, w) => l + w)) - LogSum(Stayed.Zip(memory, (l, w) => l + w));

    /// <summary>No knowledge of the memory gives odds above these.</summary>
    public double HighestLogOdds => Moved.Zip(Stayed, (moved, stayed) => moved - stayed).Max();

    /// <summary>What the series says of the memory, whether it moved or not.</summary>
    public IEnumerable<double> Evidence => Stayed.Zip(Moved, (a, b) => LogSum([a, b]));

    /// <summary>When it began and what course it took, given that it moved.</summary>
    /// <param name="memory">Log weights of the memories.</param>
    /// <param name="confidence">Probability that the places are to hold.</param>
    public MovementPlace Place(IReadOnlyList<double> memory, double confidence = 0.95)
    {
        var (n, top) = (_values.Length, double.NegativeInfinity);
        var most = (Memory: 0, Began: 0, Course: 0);
        for (var m = 0; m < StripMemory.All.Length; m++)
        {
            for (var i = Fewest; i <= n - Fewest; i++)
            {
                for (var c = 0; c < Courses.Length; c++)
                {
                    var weight = _weights[m, i, c] + memory[m];
                    (top, most) = weight > top ? (weight, (m, i, c)) : (top, most);
                }
            }
        }

        var (places, courses) = (new double[n], new double[Courses.Length]);
        for (var i = Fewest; i <= n - Fewest; i++)
        {
            for (var c = 0; c < Courses.Length; c++)
            {
                for (var m = 0; m < StripMemory.All.Length; m++)
                {
                    var weight = Math.Exp(_weights[m, i, c] + memory[m] - top);
                    (places[i], courses[c]) = (places[i] + weight, courses[c] + weight);
                }
            }
        }

        var (from, to) = ChangePoint.ShortestRun(places, confidence);
        var white = new Whitened(_values, _centre, StripMemory.All[most.Memory]);
        var (before, rate) = white.Size(most.Began, Courses[most.Course].Length);
        return new MovementPlace(
            Array.IndexOf(places, places.Max()), from, to, courses[0] / courses.Sum(), before,
            rate * Whitened.Gone(n - 1, most.Began, Courses[most.Course].Length));
    }

    /// <summary>How the newest strip compares with those before it, were nothing but chance at work.</summary>
    /// <param name="memory">Log weights of the memories.</param>
    /// <returns>Where it was expected, and the chance of its lying so far from there, on either side.</returns>
    public (double Expected, double P) Newest(IReadOnlyList<double> memory)
    {
        var (last, all) = (_values.Length - 1, new (double Log, double Off, double P)[StripMemory.All.Length]);
        for (var m = 0; m < StripMemory.All.Length; m++)
        {
            // As if it moved for this strip only: that says where the others would have it.
            var (squares, product) = new Whitened(_values, _centre, StripMemory.All[m]).Course(last, 1, 1);
            var left = Math.Max(_squares[m] - (product * product / squares), _floor);
            var t = product / Math.Sqrt(squares * left / (_freedom - 1));
            var others = Stayed[m] + (_freedom / 2 * Math.Log(Math.Max(_squares[m], _floor))) - ((_freedom - 1) / 2 * Math.Log(left))
                - (0.5 * Math.Log(squares));
            all[m] = (others + memory[m], product / squares, Quantiles.StudentTail(t, Math.Min(_freedom - 1, TailFreedom)));
        }

        var whole = LogSum(all.Select(a => a.Log));
        var (expected, p) = (0.0, 0.0);
        foreach (var (log, off, chance) in all)
        {
            var weight = Math.Exp(log - whole);
            (expected, p) = (expected + (weight * (_values[last] - off)), p + (weight * chance));
        }

        return (expected, p);
    }

    /// <summary>Log of a sum of numbers that are given by their logs.</summary>
    public static double LogSum(IEnumerable<double> logs)
    {
        double[] all = [.. logs];
        var top = all.Max();
        return double.IsNegativeInfinity(top) ? top : top + Math.Log(all.Sum(l => Math.Exp(l - top)));
    }

    // Of a movement beforehand, in variances of what a strip cannot be foretold by.
    private static double Variance(StripMemory memory) => Size * Size / memory.Innovation;

    private static double Unit(int length) => length == int.MaxValue ? EndlessUnit : length;

    private void Weigh(int m, IReadOnlyList<double[]> earlier, double leastSigma)
    {
        var memory = StripMemory.All[m];
        var (least, freedom) = (leastSigma * leastSigma, leastSigma > 0 ? PriorFreedom : 0);
        var (squares, log) = (least * freedom, 0.0);
        foreach (var stretch in earlier.Where(e => e.Length > 0))
        {
            var past = new Whitened(stretch, stretch[0], memory);
            (squares, log, freedom) = (squares + past.Squares, log + past.LogFactor, freedom + stretch.Length - 1);
        }

        var n = _values.Length;
        var white = new Whitened(_values, _centre, memory);
        (squares, log, freedom) = (squares + white.Squares, log + white.LogFactor, freedom + n - 1);

        // No process scatters less than its readings; the last bits of doubles are no scatter either.
        var floor = Math.Max(freedom * least, 1e-18);
        double Log(double sum) => log - (freedom / 2 * Math.Log(Math.Max(sum, floor)));
        (_squares[m], _freedom, _floor) = (squares, freedom, floor);
        Stayed[m] = Log(squares);
        var variance = Variance(memory);
        var top = double.NegativeInfinity;
        for (var i = Fewest; i <= n - Fewest; i++)
        {
            for (var c = 0; c < Courses.Length; c++)
            {
                var (length, weight) = Courses[c];
                var (xx, xy) = white.Course(i, length, Unit(length));
                var precision = xx + (1 / variance);
                var value = Log(squares - (xy * xy / precision)) - (0.5 * Math.Log(variance * precision)) + Math.Log(weight / Window);
                _weights[m, i, c] = value;
                top = Math.Max(top, value);
            }
        }

        var sum = 0.0;
        for (var i = Fewest; i <= n - Fewest; i++)
        {
            for (var c = 0; c < Courses.Length; c++)
            {
                sum += Math.Exp(_weights[m, i, c] - top);
            }
        }

        Moved[m] = sum > 0 ? top + Math.Log(sum) : double.NegativeInfinity;
    }
}

/// <summary>Where a movement began and what course it took; indices count the strips of the window from 0.</summary>
/// <param name="Began">The most probable strip, the first that shows it.</param>
/// <param name="Earliest">First strip of the shortest run that holds the beginning with the confidence asked for.</param>
/// <param name="Latest">Last strip of that run.</param>
/// <param name="AtOnce">Probability that it came from one strip to the next, and not little by little.</param>
/// <param name="Before">Level before, in the unit of the values.</param>
/// <param name="Step">How far it had moved by the last strip.</param>
internal sealed record MovementPlace(int Began, int Earliest, int Latest, double AtOnce, double Before, double Step);
