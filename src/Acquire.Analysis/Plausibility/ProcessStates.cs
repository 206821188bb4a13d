using Acquire.Analysis.Causes;
using MathNet.Numerics.LinearAlgebra;

namespace Acquire.Analysis.Plausibility;

/// <summary>All that "the process did this" covers: in order, each known fault alone at any size, faults together, film that was ruined or
/// pushed, and what nobody foresaw.
/// The shares and scatters are rough; common practice, no source.</summary>
internal static class ProcessStates
{
    // A signature's patches and colours differ from the table by about a third.
    private const double Mismatch = 0.3;

    // How far a patch of one dye goes along with it in the other colours.
    private const double Along = 0.6;

    // Share of strips of a known line that are on aim whatever it did before.
    private const double BackOnAim = 0.15;
    private static readonly double[] Amplitudes = [0.8, 2.2];

    public static ImmutableArray<ProcessState> Of(StripModel model)
    {
        var n = model.Cells.Length;
        var image = Image(model);
        var inOrder = InOrder(model, image);
        var faults = Signatures(model);
        var states = ImmutableArray.CreateBuilder<ProcessState>();
        var lately = LineLately.Of(model.Knowledge, model.Cells);
        // Of a line whose level is known most strips go on as before; some come after somebody has put it right.
        states.Add(new ProcessState(lately is null ? 0.45 : BackOnAim, inOrder));
        // The level is known as well as so many strips tell it.
        var around = lately is null ? inOrder : inOrder * (1 + (1.0 / lately.Strips));
        if (lately is not null)
        {
            states.Add(new ProcessState(0.45 - BackOnAim, around) { Offset = lately.Level });
        }

        var forSingles = faults.IsEmpty ? 0 : 0.35;
        foreach (var (fault, amplitude) in faults.SelectMany(f => Amplitudes.Select(a => (f, a))))
        {
            var covariance =
                around + Matrix<double>.Build.DiagonalOfDiagonalArray([.. fault.Select(s => Square(Mismatch * amplitude * s))]);
            states.Add(
                new ProcessState(forSingles / faults.Length / Amplitudes.Length, covariance, fault, amplitude) { Offset = lately?.Level });
        }

        if (!faults.IsEmpty)
        {
            // Several faults at once, at half their usual size each: a neglected process must not look like a mistake of reading.
            var all = Matrix<double>.Build.DenseOfColumnArrays(faults);
            states.Add(new ProcessState(0.05, around + (all * all.Transpose() * 0.25)) { Offset = lately?.Level });
        }

        // What no table foresees: development up or down, then every cell for itself. Without these, whatever the known faults leave
        // unexplained would speak for a mistake.
        states.Add(new ProcessState(0.06, inOrder + Activity(model, image, 0.04)));
        states.Add(new ProcessState(0.06, inOrder + Activity(model, image, 0.10)));
        states.Add(new ProcessState(0.02, inOrder + (Matrix<double>.Build.DenseIdentity(n) * Square(0.05))));
        states.Add(new ProcessState(0.005, inOrder + (Matrix<double>.Build.DenseIdentity(n) * Square(0.15))));
        states.AddRange(RuinedFilm.Of(model, inOrder));
        var sum = states.Sum(s => s.Weight);
        return [.. states.Select(s => s with { Weight = s.Weight / sum })];
    }

    private static ImmutableArray<double[]> Signatures(StripModel model) =>
    [
        .. FaultSignatures.Of(model.Knowledge.Sheet.Key)
            // Those are mistakes to be asked about; taken for the process, they would explain themselves away.
            .Where(s => s.Origin != FaultOrigin.Instrument)
            .Select(s => model.Cells.Select(c => s.Size(c.PatchKey, c.Channel)).ToArray())
            .Where(s => s.Any(x => x != 0)),
    ];

    /// <summary>Run-to-run scatter alike in all colours, a little of each patch and of each cell its own, and the aims' uncertainty. A
    /// patch of one dye may move in the other colours as it does in its own.</summary>
    private static Matrix<double> InOrder(StripModel model, double[] image)
    {
        var run = model.Knowledge.Settings.RunScatter;
        var most = model.Cells.Zip(image).GroupBy(c => c.First.Slot).ToDictionary(g => g.Key, g => g.Max(c => c.Second));
        double[] along = [.. model.Cells.Select((c, i) => Along * (most[c.Slot] - image[i]))];
        return Matrix<double>.Build.Dense(image.Length, image.Length, (i, j) =>
            (run * run * ((image[i] * image[j]) + (along[i] * along[j])))
            + (model.Cells[i].Slot == model.Cells[j].Slot ? Square(run / 4) * image[i] * image[j] : 0)
            + (i == j ? Square(run / 3 * image[i]) + Square(Math.Max(model.Cells[i].Aim.StandardUncertainty, 0.001)) : 0));
    }

    /// <summary>Development up or down by so much at HD, with colours and patches that do not quite go together.</summary>
    private static Matrix<double> Activity(StripModel model, double[] image, double size) => Matrix<double>.Build.Dense(
        image.Length, image.Length,
        (i, j) => Square(size) * image[i] * image[j]
            * (1 + (model.Cells[i].Channel == model.Cells[j].Channel ? 0.3 : 0) + (i == j ? 0.1 : 0)));

    /// <summary>How much image lies in each cell: a quarter at D-min, 1 near LD, 1.5 at the dark end.</summary>
    private static double[] Image(StripModel model)
    {
        var least = model.Cells.GroupBy(c => c.Channel).ToDictionary(g => g.Key, g => g.Min(c => c.Aim.Value));
        return [.. model.Cells.Select(c => 0.25 + (1.25 * (1 - Math.Exp(-(c.Aim.Value - least[c.Channel]) / 0.25))))];
    }

    private static double Square(double x) => x * x;
}

/// <summary>Something that the process may have been doing: a distribution of
/// the deviations of all patches and channels from aim.</summary>
/// <param name="Weight">Its share, all states together 1.</param>
/// <param name="Covariance">Of the deviations.</param>
/// <param name="Direction">The signature of a single fault, whose amplitude is half-normal; null for none.</param>
/// <param name="Scale">Scale of the amplitude.</param>
internal sealed record ProcessState(double Weight, Matrix<double> Covariance, double[]? Direction = null, double Scale = 1)
{
    /// <summary>Mean of the deviations; null for none.</summary>
    public double[]? Offset { get; init; }
}
