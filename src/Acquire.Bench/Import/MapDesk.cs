using Acquire.Bench.Processes;
using Acquire.Formats.Tables;

namespace Acquire.Bench.Import;

/// <summary>A column map as the heading of a file suggests it, to be looked at before it is used.</summary>
/// <param name="PassedOver">Headings that nothing was found for.</param>
/// <param name="Lacks">What must be said before an import can use it, a sentence each.</param>
/// <param name="IsSure">Whether the heading is one of this program's own, so that no map need be saved.</param>
public sealed record ProposedMap(ColumnMap Map, ImmutableArray<string> PassedOver, ImmutableArray<string> Lacks, bool IsSure);

/// <summary>Column maps for spreadsheets that others made.</summary>
public sealed class MapDesk(ProcessLibrary processes)
{
    /// <summary>The process whose patches headings name where nobody says another.</summary>
    public const string UsualProcess = "c41";

    /// <exception cref="ImportException">The file is empty or no CSV.</exception>
    /// <exception cref="IOException">The file cannot be opened.</exception>
    public async Task<ProposedMap> ProposeAsync(string file, string process, CancellationToken cancellationToken)
    {
        var (map, unknown, isSure) = await MapProposal.OfAsync(file, processes.Get(process).Layout, cancellationToken);
        return new ProposedMap(map, unknown, [.. Lacks(map)], isSure);
    }

    private static IEnumerable<string> Lacks(ColumnMap map)
    {
        if (!map.Columns.ContainsKey("processed_at"))
        {
            yield return "No column looks like a date. Name it in the map: \"columns\": { \"processed_at\": \"…\" }";
        }

        if (!map.Columns.ContainsKey("lot"))
        {
            yield return "No column looks like the lot. Name it in the map, or write \"constants\": { \"lot\": \"2417\" }, or give --lot.";
        }

        if (map is { Rows: RowKind.Patch } && !map.Columns.ContainsKey("patch"))
        {
            yield return "No column looks like a patch, and no heading like a patch with a channel (\"LD R\"). Write \"rows\": "
                + "\"strip\" with \"densities\", or name the patch column.";
        }
    }
}
