using System.ComponentModel;
using Acquire.Bench.Books;
using Acquire.Bench.Export;
using Microsoft.AspNetCore.Http.Features;
using Microsoft.AspNetCore.Mvc;

namespace Acquire.Web.Api;

/// <summary>Strips as a file, streamed as they are read.</summary>
internal static class ExportRoutes
{
    public static void MapExport(this RouteGroupBuilder api) => api.MapGet("/export", ExportAsync)
        .WithTags("files")
        .Reads("exportStrips", "Strips as a file: results to reckon with elsewhere, reads, whole records, CGATS.17 text, or a workbook.")
        .Produces<string>(
            StatusCodes.Status200OK, "text/csv", "application/jsonl", "text/plain",
            "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet");

    private static Task<IResult> ExportAsync(
        [FromQuery, Description("results, reads, records, cgats or workbook; results when not given.")] string? form,
        [FromQuery, Description("With records: every revision of each strip, not only the newest.")] bool? revisions,
        [AsParameters] StripListQuery strips,
        ExportDesk desk,
        TimeProvider time,
        HttpContext context)
    {
        var asked =
            new ExportAsked(strips.Filter(time).Strips, KindWords.Of<ExportForm>(form ?? "results")) { Revisions = revisions ?? false };
        var name = $"strips-{Numbers.Day(DateOnly.FromDateTime(time.GetLocalNow().DateTime))}.{asked.Form.Ending()}";
        if (asked.Form == ExportForm.Workbook)
        {
            // A workbook is packed by a library that writes without awaiting.
            context.Features.Get<IHttpBodyControlFeature>()!.AllowSynchronousIO = true;
        }

        return Task.FromResult(Results.Stream(
            stream => desk.WriteAsync(asked, stream, context.RequestAborted), TypeOf(asked.Form), name));
    }

    private static string TypeOf(ExportForm form) => form switch
    {
        ExportForm.Records => "application/jsonl; charset=utf-8",
        ExportForm.Workbook => "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
        ExportForm.Cgats => "text/plain; charset=utf-8",
        _ => "text/csv; charset=utf-8",
    };
}
