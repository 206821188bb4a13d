using System.Text.Json.Nodes;
using Acquire.Bench.Processes;
using Acquire.Formats.ProcessSheets;
using Acquire.Web.Documents;

namespace Acquire.Web.Api;

/// <summary>Process sheets: strip layouts, parameters and limits with their source.</summary>
internal static class ProcessRoutes
{
    public static void MapProcesses(this RouteGroupBuilder api)
    {
        var processes = api.MapGroup("/processes").WithTags("processes");
        processes.MapGet("", List).Reads("listProcesses", "The process sheets, and what is wrong with those that cannot be read.");
        processes.MapGet("/{key}", Show).Reads("showProcess", "A process sheet, as the file that it is.")
            .Produces<JsonObject>(StatusCodes.Status200OK, "application/json");
    }

    private static ProcessesDocument List(ProcessLibrary library)
    {
        var sheets = library.List(out var faults);
        return new ProcessesDocument
        {
            Items = sheets.Select(s => ProcessJson.Of(s, library.HasOwn(s.Key))),
            Faults = faults.Select(f => f.Message),
        };
    }

    private static IResult Show(string key, ProcessLibrary library) =>
        Results.Text(ProcessSheetWriter.Write(library.Get(key)), "application/json");
}

internal sealed record ProcessesDocument
{
    public required IEnumerable<ListedProcessDocument> Items { get; init; }

    /// <summary>What is wrong with own sheets that cannot be read, a file each.</summary>
    public required IEnumerable<string> Faults { get; init; }
}
