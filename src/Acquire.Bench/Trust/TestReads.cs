using System.Collections.Immutable;
using System.Globalization;
using Acquire.Analysis.Gauge;
using Acquire.Domain.Trust;
using Acquire.Storage.Import;

namespace Acquire.Bench.Trust;

/// <summary>Brings the reads of a repeatability test into the form in which they are studied.</summary>
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

    /// <summary>The reads of a test that count; each keeps the number it has among all reads of its patch.</summary>
    /// <exception cref="GaugeException">No read counts.</exception>
    public static RepeatabilityData Of(RepeatabilityTest test) => new(
    [
        .. from patch in test.Patches
           where patch.LeftOut is null
           from read in patch.Reads.Select((r, i) => (r.Reading, r.Counts, Number: i + 1)).Where(r => r.Counts).Select((r, i) => (r.Reading, r.Number, Index: i))
           select GaugeRead.Of(
               patch.Patch.Key,
               read.Number,
               read.Reading.Densities,
               test.ReadsPerPlacement > 1 ? (read.Index / test.ReadsPerPlacement) + 1 : null),
    ]);

    private static int? Number(string name) =>
        int.TryParse(name, NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : null;
}
