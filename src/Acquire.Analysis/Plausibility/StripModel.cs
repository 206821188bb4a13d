using MathNet.Numerics.LinearAlgebra;

namespace Acquire.Analysis.Plausibility;

/// <summary>The strip as it should be: its aims as one vector, and what the process may do to them.</summary>
internal sealed class StripModel
{
    private readonly Dictionary<(int Slot, Channel Channel), int> _index;

    public StripModel(StripKnowledge knowledge)
    {
        Knowledge = knowledge;
        Patches = knowledge.Layout.Patches;
        Cells =
        [
            .. from slot in Enumerable.Range(0, Patches.Length)
               from channel in knowledge.Sheet.ChannelsNeeded
               let aim = knowledge.Aim(Patches[slot].Key, channel)
               where aim is not null
               select new ModelCell(slot, Patches[slot].Key, channel, aim),
        ];
        _index = Cells.Select((c, i) => (c, i)).ToDictionary(c => (c.c.Slot, c.c.Channel), c => c.i);
        Aims = [.. Cells.Select(c => c.Aim.Value)];
        States = Cells.IsEmpty ? [] : ProcessStates.Of(this);
    }

    public StripKnowledge Knowledge { get; }

    /// <summary>The patches of the layout; the index of a patch is its slot.</summary>
    public ImmutableArray<Patch> Patches { get; }

    /// <summary>Every patch and channel that has an aim.</summary>
    public ImmutableArray<ModelCell> Cells { get; }

    /// <summary>The aims of the cells.</summary>
    public double[] Aims { get; }

    /// <summary>What the process may be doing.</summary>
    public ImmutableArray<ProcessState> States { get; }

    /// <summary>Index of a cell; null when it has no aim.</summary>
    public int? Find(int slot, Channel channel) => _index.TryGetValue((slot, channel), out var index) ? index : null;

    /// <summary>The aim of a cell, in density; 0 when it has none.</summary>
    public double AimOf(DataCell cell) => Find(cell.Slot, cell.Channel) is { } index ? Aims[index] : 0;

    /// <summary>Slots that have an aim, in order.</summary>
    public IEnumerable<int> Slots => Cells.Select(c => c.Slot).Distinct();
}

/// <summary>One patch and channel of the strip.</summary>
internal sealed record ModelCell(int Slot, string PatchKey, Channel Channel, Aim Aim);

/// <summary>The means of what has been read so far, of those patches and channels that have an aim.</summary>
/// <param name="Cells">Where each value stands.</param>
/// <param name="Values">The means of the reads that count.</param>
/// <param name="Noise">Covariance of reading: n × n.</param>
/// <param name="Key">What tells the cells and their counts of reads from others.</param>
internal sealed record StripData(ImmutableArray<DataCell> Cells, double[] Values, Matrix<double> Noise, string Key)
{
    // Share of placing, which moves the colours of a read together, in the variance of a re-placed read.
    private const double PlacingShare = 0.3;

    /// <summary>Slots that have been read.</summary>
    public ImmutableArray<int> Slots => [.. Cells.Select(c => c.Slot).Distinct()];

    public bool Has(int slot) => Cells.Any(c => c.Slot == slot);

    /// <summary>Gathers the means; null when nothing that has an aim was read.</summary>
    public static StripData? Of(StripModel model, ImmutableArray<PatchReads> patches)
    {
        var read =
            (from patch in patches
             let slot = model.Patches.IndexOf(model.Patches.FirstOrDefault(p => Keys.Same(p.Key, patch.Patch.Key))!)
             where slot >= 0
             from channel in model.Knowledge.Sheet.ChannelsNeeded
             where model.Find(slot, channel) is not null
             let densities = patch.Densities(channel).ToList()
             where densities.Count > 0
             orderby slot, channel
             select (
                 Cell: new DataCell(
                     slot, channel, densities.Count, densities.Max(d => d.Resolution), patch.Accepted.All(r => r.IsEntered)),
                 Mean: densities.Average(d => d.ToDouble())))
            .DistinctBy(r => (r.Cell.Slot, r.Cell.Channel))
            .ToList();
        if (read.Count == 0)
        {
            return null;
        }

        ImmutableArray<DataCell> cells = [.. read.Select(r => r.Cell)];
        // At the aim and not at what was read: what was worked out for a strip serves the next one of the lot.
        var deviations = cells.Select(c => Deviation(model.Knowledge.RepeatabilityOf(c.Channel, model.AimOf(c)), c)).ToArray();
        // Placing a patch anew moves its colours together; taken as independent, one bad placing would look like three signs.
        var noise = Matrix<double>.Build.Dense(cells.Length, cells.Length, (i, j) =>
            deviations[i] * deviations[j] * (i == j ? 1 : cells[i].Slot == cells[j].Slot ? PlacingShare : 0));
        var key = string.Join(
            ' ', cells.Select(c => string.Create(CultureInfo.InvariantCulture, $"{c.Slot}{c.Channel.Letter()}{c.Reads}/{c.Step}")));
        return new StripData(cells, [.. read.Select(r => r.Mean)], noise, key);
    }

    // Rounding averages out with reads that scatter and stays with those that do not (GUM F.2.2.1); the larger of the two views is taken.
    private static double Deviation(double repeatability, DataCell cell)
    {
        var rounding = cell.Step * cell.Step / 12;
        return Math.Sqrt((((repeatability * repeatability) + rounding) / cell.Reads) + (repeatability < cell.Step / 2 ? rounding : 0));
    }
}

/// <summary>One patch and channel of the data.</summary>
/// <param name="Typed">Whether a person typed it.</param>
internal readonly record struct DataCell(int Slot, Channel Channel, int Reads, double Step, bool Typed);
