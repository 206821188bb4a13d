using MathNet.Numerics.LinearAlgebra;

namespace Acquire.Analysis.Plausibility;

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
             let slot = model.Patches.IndexOf(model.Patches.FirstOrDefault(p => Same(p.Key, patch.Patch.Key))!)
             where slot >= 0
             from channel in model.Knowledge.Sheet.ChannelsNeeded
             where model.Find(slot, channel) is not null
             let densities = patch.Densities(channel).ToList()
             where densities.Count > 0
             orderby slot, channel
             select (Cell: new DataCell(slot, channel, densities.Count, densities.Max(d => d.Resolution)), Mean: densities.Average(d => d.ToDouble())))
            .DistinctBy(r => (r.Cell.Slot, r.Cell.Channel))
            .ToList();
        if (read.Count == 0)
        {
            return null;
        }

        ImmutableArray<DataCell> cells = [.. read.Select(r => r.Cell)];
        var deviations = cells.Select(c => Deviation(model.Knowledge.RepeatabilityOf(c.Channel), c)).ToArray();
        var noise = Matrix<double>.Build.Dense(cells.Length, cells.Length, (i, j) =>
            deviations[i] * deviations[j] * (i == j ? 1 : cells[i].Slot == cells[j].Slot ? PlacingShare : 0));
        var key = string.Join(' ', cells.Select(c => string.Create(CultureInfo.InvariantCulture, $"{c.Slot}{c.Channel.Letter()}{c.Reads}/{c.Step}")));
        return new StripData(cells, [.. read.Select(r => r.Mean)], noise, key);
    }

    // Rounding averages out with reads that scatter and stays with those that do not (GUM F.2.2.1); the larger of the two views is taken.
    private static double Deviation(double repeatability, DataCell cell)
    {
        var rounding = cell.Step * cell.Step / 12;
        return Math.Sqrt((((repeatability * repeatability) + rounding) / cell.Reads) + (repeatability < cell.Step / 2 ? rounding : 0));
    }

    private static bool Same(string left, string right) => string.Equals(left, right, StringComparison.OrdinalIgnoreCase);
}

/// <summary>One patch and channel of the data.</summary>
internal readonly record struct DataCell(int Slot, Channel Channel, int Reads, double Step);
