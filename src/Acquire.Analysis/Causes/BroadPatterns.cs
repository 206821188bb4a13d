using MathNet.Numerics.LinearAlgebra;

namespace Acquire.Analysis.Causes;

/// <summary>Something else, and strips that do not belong to their aims: patterns of which only the broad shape is known, each a normal
/// distribution of some width about aim. Shapes and widths are judgement, no source.</summary>
internal sealed class BroadPatterns(Evidence evidence)
{
    /// <summary>How far along the scale of exposure what happens at one patch is felt at another.</summary>
    private const double Reach = 0.45;

    private static readonly (double Size, double Share)[] Sizes = [(0.03, 0.25), (0.07, 0.35), (0.16, 0.25), (0.4, 0.10), (1.0, 0.05)];

    /// <summary>What no table foresees: the scale moves smoothly, its colours together, against each other or one alone; or every cell
    /// does as it likes.</summary>
    public Candidate SomethingElse(double share)
    {
        var shapes = new List<(Matrix<double> Shape, double Share)>
        {
            (Smooth((a, b) => a == b ? 1 : 0.4), 0.2),
            (Smooth((a, b) => a == b ? 1 : -0.45), 0.25),
            (evidence.Build((i, j) => i == j ? 1 : 0), 0.25),
        };
        shapes.AddRange(Channels.Colours.Select(c => (Smooth((a, b) => a == c && b == c ? 1 : 0), 0.1)));
        return Weigh(
            Possibilities.SomethingElse, share,
            [.. from shape in shapes from size in Sizes select (shape.Share * size.Share, Null(), size.Size * size.Size * shape.Shape)]);
    }

    /// <summary>Strip and aims of two lots: by the aims of the other lots that are known, or else each patch off by itself.</summary>
    public Candidate OtherLot(ImmutableArray<LotAims> lots, double share)
    {
        // Lots differ by some hundredths from patch to patch.
        var unknown = evidence.Build((i, j) =>
            (i == j ? 0.025 * 0.025 : 0) + (SamePatch(i, j) ? 0.025 * 0.025 : 0));
        var shifts = lots.Select(l => (Lot: l, Shift: Shift(l))).Where(l => l.Shift is not null).ToList();
        var plain = Weigh(Possibilities.OtherLot, share, [(shifts.Count == 0 ? 1 : 0.5, Null(), unknown)]);
        if (shifts.Count == 0)
        {
            return plain;
        }

        var none = evidence.Build((_, _) => 0);
        var known = shifts
            .Select(s => (s.Lot, s.Shift, One: Weigh(Possibilities.OtherLot, share, [(0.5 / shifts.Count, s.Shift!, none)])))
            .OrderByDescending(s => s.One.Log)
            .ToList();
        var best = known[0].One.Log > plain.Log ? known[0].Lot : null;
        return plain with
        {
            Log = Evidence.LogSum([plain.Log, .. known.Select(k => k.One.Log)]),
            Expected = best is null ? null : known[0].Shift,
            Detail = best is null ? "" : $"It fits the aims of lot {best.Code}.",
        };
    }

    /// <summary>Another film: the layers lie elsewhere, patch by patch, by a tenth of density.</summary>
    public Candidate OtherMaker(double share) => Weigh(
        Possibilities.OtherMaker, share,
        [
            (0.5, Null(), evidence.Build((i, j) => (i == j ? 0.09 * 0.09 : 0) + (SamePatch(i, j) ? 0.06 * 0.06 : 0))),
            (0.5, Null(), evidence.Build((i, j) => (i == j ? 0.06 * 0.06 : 0) + (SamePatch(i, j) ? 0.12 * 0.12 : 0))),
        ]);

    /// <summary>Other filters: each colour off by a share of density and by what the mask makes of it.</summary>
    public Candidate OtherStatus(double share) => Weigh(
        Possibilities.OtherStatus, share,
        [
            (1, Null(), evidence.Build((i, j) => evidence.Cells[i].Channel == evidence.Cells[j].Channel
                ? (0.06 * evidence.Cells[i].Aim * 0.06 * evidence.Cells[j].Aim) + (0.03 * 0.03)
                : 0)),
        ]);

    /// <summary>A process that is a little off beside whatever else happened.</summary>
    public Matrix<double> LittleOff() => 0.04 * 0.04 * Smooth((a, b) => a == b ? 1 : 0.8);

    private Vector<double> Null() => Vector<double>.Build.Dense(evidence.Cells.Length);

    private bool SamePatch(int i, int j) => Keys.Same(evidence.Cells[i].PatchKey, evidence.Cells[j].PatchKey);

    private Matrix<double> Smooth(Func<Channel, Channel, double> colours) => evidence.Build((i, j) =>
    {
        var (a, b) = (evidence.Cells[i], evidence.Cells[j]);
        var apart = (a.Place - b.Place) / Reach;
        return Width(a) * Width(b) * colours(a.Channel, b.Channel) * Math.Exp(-0.5 * apart * apart);

        // What happens to an image happens less where there is none.
        static double Width(EvidenceCell cell) => 0.3 + (0.7 * Math.Min(1, cell.Place / 0.7));
    });

    private Vector<double>? Shift(LotAims lot)
    {
        var shift = evidence.Build(c => lot.Aims.FirstOrDefault(a => Keys.Same(a.PatchKey, c.PatchKey) && a.Channel == c.Channel) is { } aim
            ? aim.Value - c.Aim
            : double.NaN);
        return shift.Any(double.IsNaN) ? null : shift;
    }

    private Candidate Weigh(
        Possibility of, double share, ImmutableArray<(double Share, Vector<double> Mean, Matrix<double> Spread)> parts) =>
        new([of], Math.Log(share), Evidence.LogSum(
            [.. parts.Select(p => Math.Log(p.Share) + evidence.LogDensity(p.Mean, evidence.Scatter + p.Spread))]));
}

/// <summary>The aims of another lot.</summary>
public sealed record LotAims(string Code, ImmutableArray<Aim> Aims);
