namespace Acquire.Analysis.Plausibility;

/// <summary>A part of the strip is not what it is taken for: the darkest patch read at its edge, or patches of another strip. The sizes are
/// rough; common practice, no source.</summary>
internal sealed class PartHypotheses(StripModel model)
{
    private const double EdgePrior = 0.004;
    private const double TwoStripsPrior = 0.01;

    // Lighter film at the edge takes so much off, alike in the colours within a few hundredths.
    private const double EdgeSize = -0.24;
    private const double EdgeScatter = 0.11;
    private const double EdgeOfColour = 0.03;

    // How far apart two strips of one lot lie in the dark that were not processed together; each colour and each patch by itself.
    private const double Apart = 0.28;
    private const double ApartOfColour = 0.06;
    private const double ApartOfPatch = 0.04;

    // Development moves a patch the more, the more image it has, and less than in step: at this image by half.
    private const double HalfMoved = 0.6;

    private readonly double[] _moves = Moves(model);

    private readonly int _darkest = model.Cells.IsEmpty
        ? -1
        : model.Cells.GroupBy(c => c.Slot).MaxBy(g => g.Average(c => c.Aim.Value))!.Key;

    /// <summary>The darkest patch may have been read at its edge; of another patch nothing tells an edge from a fault.</summary>
    public IEnumerable<Hypothesis> EdgeOf(int slot)
    {
        if (slot != _darkest)
        {
            yield break;
        }

        var name = model.Patches[slot].Name;
        yield return new Hypothesis(
            "edge", SuspicionKind.PatchEdge, EdgePrior, [slot],
            $"{name} reads too light for the other patches, all colours alike, as at its edge. Centre it under the aperture and read "
            + $"{name} again?",
            new Remedy.ReadPatchAgain([model.Patches[slot].Key], "read at its edge"),
            data => Explanation.Reads(data, model, c => c) is { } plain
                ? plain with
                {
                    Shift = Vector(data, c => c.Slot == slot, _ => EdgeSize),
                    Errors =
                    [
                        Vector(data, c => c.Slot == slot, _ => EdgeScatter),
                        .. Colours.Select(colour => Vector(data, c => c.Slot == slot && c.Channel == colour, _ => EdgeOfColour)),
                    ],
                }
                : null);
    }

    /// <summary>From some patch on, they are of another strip.</summary>
    public IEnumerable<Hypothesis> TwoStrips()
    {
        var n = model.Patches.Length;
        for (var cut = 1; cut < n; cut++)
        {
            var from = cut;
            yield return new Hypothesis(
                $"two strips {from}", SuspicionKind.TwoStrips, TwoStripsPrior / (n - 1), [.. Enumerable.Range(from, n - from)],
                $"From {model.Patches[from].Name} on the patches do not go with those before: are they all of one strip? Read the whole "
                + "strip again?",
                new Remedy.ReadPatchAgain([.. model.Patches.Select(p => p.Key)], "patches of two strips"),
                data => Explanation.Reads(data, model, c => c) is { } plain && data.Cells.Any(c => c.Slot < from)
                    ? plain with
                    {
                        Errors =
                        [
                            Vector(data, c => c.Slot >= from, i => Apart * i),
                            .. Colours.Select(colour => Vector(data, c => c.Slot >= from && c.Channel == colour, i => ApartOfColour * i)),
                            .. Enumerable.Range(from, n - from).Select(s => Vector(data, c => c.Slot == s, i => ApartOfPatch * i)),
                        ],
                    }
                    : null);
        }
    }

    private IEnumerable<Channel> Colours => model.Cells.Select(c => c.Channel).Distinct();

    private double[] Vector(StripData data, Func<DataCell, bool> where, Func<double, double> size) =>
        [.. data.Cells.Select(c => where(c) && model.Find(c.Slot, c.Channel) is { } index ? size(_moves[index]) : 0)];

    private static double[] Moves(StripModel model)
    {
        var clearest = model.Cells.GroupBy(c => c.Channel).ToDictionary(g => g.Key, g => g.Min(c => c.Aim.Value));
        return [.. model.Cells.Select(c => c.Aim.Value - clearest[c.Channel]).Select(image => image / (image + HalfMoved))];
    }
}
