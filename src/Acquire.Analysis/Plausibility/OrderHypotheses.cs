namespace Acquire.Analysis.Plausibility;

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
            "wrong end",
            SuspicionKind.WrongEnd,
            WrongEndPrior,
            [.. Enumerable.Range(0, n)],
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
                    $"exchange {first} {second}",
                    SuspicionKind.NeutralOrder,
                    ExchangePrior / (n * (n - 1) / 2),
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
                $"shift {from}",
                SuspicionKind.OffByOneStep,
                ShiftPrior / model.Patches.Length,
                [.. Enumerable.Range(from, model.Patches.Length - from)],
                $"From {model.Patches[from].Name} on, every patch reads like the one before it: off by one step. Read these patches again?",
                new Remedy.ReadPatchAgain([.. model.Patches.Skip(from).Select(p => p.Key)], "off by one step"),
                data => Explanation.Reads(data, model, cell => cell.Slot >= from ? cell with { Slot = cell.Slot - 1 } : cell));
        }
    }
}
