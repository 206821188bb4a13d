namespace Acquire.Analysis.Plausibility;

/// <summary>One patch was read in place of another.</summary>
internal sealed class PatchHypotheses(StripModel model)
{
    private const double PreviousPrior = 0.008;
    private const double NextPrior = 0.004;
    private const double OtherPrior = 0.002;
    private const double WedgePrior = 0.003;

    // A step of the wedge lies this far along HD − LD, give or take; strips have ten equal steps, of which LD and HD are some five apart.
    private const double WedgeStep = 0.20;
    private const double WedgeScatter = 0.05;

    /// <summary>The patch that was just read was another one.</summary>
    public IEnumerable<Hypothesis> Of(int slot)
    {
        var others = model.Slots.Where(s => Math.Abs(s - slot) > 1).ToList();
        // LD read in place of D-min may still have passed for fog, and D-min in place of LD for a dead developer; the next patch tells.
        if (slot > 0)
        {
            yield return Previous(slot);
            yield return Next(slot - 1);
        }

        if (slot > 1)
        {
            yield return Previous(slot - 1);
        }

        if (slot + 1 < model.Patches.Length)
        {
            yield return Next(slot);
        }

        foreach (var other in others)
        {
            yield return Taken(slot, other, SuspicionKind.NeutralOrder, OtherPrior / others.Count, $"another patch, {Name(other)}");
        }
    }

    /// <summary>A step of the wedge beside LD or HD was read: one in between that the layout does not name.</summary>
    public IEnumerable<Hypothesis> Wedge(StripData data)
    {
        foreach (var contrast in model.Knowledge.Sheet.Parameters.OfType<DifferenceParameter>().Where(d => d.Channels.Length > 1))
        {
            // HD and LD are two steps of one wedge, so their difference measures its steps.
            if ((Slot(contrast.PatchKey), Slot(contrast.MinusPatchKey)) is not (>= 0 and var high, >= 0 and var low))
            {
                continue;
            }

            foreach (var slot in new[] { low, high }.Where(data.Has))
            {
                foreach (var sign in new[] { 1, -1 })
                {
                    yield return new Hypothesis(
                        $"wedge {slot} {sign}", SuspicionKind.OffByOneStep, WedgePrior, [slot],
                        $"{Name(slot)} reads like the {(sign > 0 ? "darker" : "lighter")} step beside it. Read {Name(slot)} again?",
                        new Remedy.ReadPatchAgain([model.Patches[slot].Key], "off by one step"),
                        d => Explanation.Reads(d, model, cell => cell) is { } plain ? Shifted(plain, d, slot, high, low, sign) : null);
                }
            }
        }
    }

    private Explanation? Shifted(Explanation plain, StripData data, int slot, int high, int low, int sign)
    {
        var step = data.Cells.Select(c => c.Slot == slot ? model.Find(high, c.Channel) is { } h && model.Find(low, c.Channel) is { } l
            ? sign * (model.Aims[h] - model.Aims[l])
            : double.NaN : 0).ToArray();
        return step.Any(double.IsNaN)
            ? null
            : plain with { Shift = [.. step.Select(s => WedgeStep * s)], Errors = [[.. step.Select(s => WedgeScatter * s)]] };
    }

    private Hypothesis Previous(int slot) => Taken(
        slot, slot - 1, SuspicionKind.PreviousPatchAgain, PreviousPrior, $"the previous patch, {Name(slot - 1)}, once more");

    private Hypothesis Next(int slot) => Taken(slot, slot + 1, SuspicionKind.OffByOneStep, NextPrior, $"the next patch, {Name(slot + 1)}");

    private Hypothesis Taken(int slot, int source, SuspicionKind kind, double prior, string what) => new(
        $"patch {slot} {source}", kind, prior, [slot],
        $"{Name(slot)} reads like {what}. Read {Name(slot)} again?",
        new Remedy.ReadPatchAgain([model.Patches[slot].Key], $"{Name(source)} was read in its place"),
        data => Explanation.Reads(data, model, cell => cell.Slot == slot ? cell with { Slot = source } : cell));

    /// <summary>Index of a patch; −1 when strips of this layout do not have it.</summary>
    private int Slot(string key) => model.Patches.ToList().FindIndex(p => Keys.Same(p.Key, key));

    private string Name(int slot) => model.Patches[slot].Name;
}

/// <summary>The patches of the strip were read in another order.</summary>
internal sealed class OrderHypotheses(StripModel model)
{
    private const double WrongEndPrior = 0.005;
    private const double ExchangePrior = 0.005;
    private const double ShiftPrior = 0.004;

    /// <summary>The strip lies the wrong way round: patches read so far begin at the other end.</summary>
    public Hypothesis WrongEnd(bool complete)
    {
        var n = model.Patches.Length;
        return new Hypothesis(
            "wrong end", SuspicionKind.WrongEnd, WrongEndPrior, [.. Enumerable.Range(0, n)],
            complete
                ? "This strip looks as if it was read from the wrong end. Put the patches in the right order?"
                : $"This looks like {model.Patches[^1].Name}: is the strip being read from the wrong end? Turn it round and begin again?",
            complete
                ? new Remedy.ReorderPatches([.. Enumerable.Range(0, n).Reverse()])
                : new Remedy.ReadPatchAgain([.. model.Patches.Select(p => p.Key)], "read from the wrong end"),
            data => Explanation.Reads(data, model, cell => cell with { Slot = n - 1 - cell.Slot }));
    }

    /// <summary>Two patches changed places, once all are read.</summary>
    public IEnumerable<Hypothesis> Exchanges()
    {
        var n = model.Patches.Length;
        for (var i = 0; i < n; i++)
        {
            for (var j = i + 1; j < n; j++)
            {
                var (first, second) = (i, j);
                yield return new Hypothesis(
                    $"exchange {first} {second}", SuspicionKind.NeutralOrder, ExchangePrior / (n * (n - 1) / 2),
                    [first, second],
                    $"These look like {model.Patches[first].Name} and {model.Patches[second].Name} exchanged: reorder?",
                    new Remedy.ReorderPatches([.. Enumerable.Range(0, n).Select(Swap)]),
                    data => Explanation.Reads(data, model, cell => cell with { Slot = Swap(cell.Slot) }));

                int Swap(int slot) => slot == first ? second : slot == second ? first : slot;
            }
        }
    }

    /// <summary>From some patch on, each holds the reads of the one before: one was read twice, and the last is missing.</summary>
    public IEnumerable<Hypothesis> Shifts()
    {
        for (var i = 1; i < model.Patches.Length - 1; i++)
        {
            var from = i;
            yield return new Hypothesis(
                $"shift {from}", SuspicionKind.OffByOneStep, ShiftPrior / model.Patches.Length,
                [.. Enumerable.Range(from, model.Patches.Length - from)],
                $"From {model.Patches[from].Name} on, every patch reads like the one before it: off by one step. Read these patches again?",
                new Remedy.ReadPatchAgain([.. model.Patches.Skip(from).Select(p => p.Key)], "off by one step"),
                data => Explanation.Reads(data, model, cell => cell.Slot >= from ? cell with { Slot = cell.Slot - 1 } : cell));
        }
    }
}
