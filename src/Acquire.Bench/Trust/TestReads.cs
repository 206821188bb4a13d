using Acquire.Analysis.Gauge;
using Acquire.Storage.Import;

namespace Acquire.Bench.Trust;

/// <summary>Brings reads into the form in which they are studied.</summary>
public static class TestReads
{
    /// <summary>The reads of a file. Placements that are not all numbered are counted in the order in which they appear.</summary>
    /// <exception cref="GaugeException">There are no reads.</exception>
    public static RepeatabilityData Of(IReadOnlyCollection<ImportedRead> reads)
    {
        var names = reads.Select(r => r.Placement).OfType<string>().Distinct(StringComparer.OrdinalIgnoreCase).ToList();
        var numbered = names.All(n => Number(n) is not null);
        return new RepeatabilityData([.. reads.Select(r => new GaugeRead(r.Patch, r.Read, r.Values.ToImmutableDictionary(), Placement(r.Placement)))]);

        int? Placement(string? name) => name is null ? null
            : numbered ? Number(name)
            : names.FindIndex(n => string.Equals(n, name, StringComparison.OrdinalIgnoreCase)) + 1;
    }

    /// <summary>The reads of a record that count; each keeps the number it has among all reads of its patch.</summary>
    /// <param name="patches">The patches.</param>
    /// <param name="readsPerPlacement">How many reads that count follow each other without moving the patch.</param>
    /// <exception cref="GaugeException">No read counts.</exception>
    public static RepeatabilityData Of(ImmutableArray<PatchReads> patches, int readsPerPlacement = 1) => new(
    [
        .. from patch in patches
           where patch.LeftOut is null
           from read in patch.Reads.Select((r, i) => (r.Reading, r.Counts, Number: i + 1)).Where(r => r.Counts).Select((r, i) => (r.Reading, r.Number, Index: i))
           select GaugeRead.Of(
               patch.Patch.Key, read.Number, read.Reading.Densities, readsPerPlacement > 1 ? (read.Index / readsPerPlacement) + 1 : null),
    ]);

    private static int? Number(string name) =>
        int.TryParse(name, NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : null;
}
