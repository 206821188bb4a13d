using System.ComponentModel;
using Acquire.Analysis.Charts;
using Acquire.Bench.Charts;
using Acquire.Bench.Reports;
using Acquire.Web.Documents;
using Microsoft.AspNetCore.Mvc;

namespace Acquire.Web.Api;

/// <summary>What draws for people: given by whoever starts the service, so that chart and report look the same from every face.</summary>
/// <param name="Svg">Draws a chart as SVG, so many pixels wide.</param>
/// <param name="UsualWidth">The width where nobody says.</param>
/// <param name="LeastWidth">The narrowest it draws.</param>
/// <param name="LargestWidth">The widest.</param>
/// <param name="Report">Lays a report out as one HTML page, for a paper of that name or any.</param>
public sealed record ServiceDrawings(
    Func<ChartModel, int, string> Svg, int UsualWidth, int LeastWidth, int LargestWidth, Func<DarkroomReport, string?, string> Report);

/// <summary>Charts, as numbers and drawn, and reports.</summary>
internal static class ChartRoutes
{
    public static void MapCharts(this RouteGroupBuilder api)
    {
        var charts = api.MapGroup("").WithTags("studies");
        charts.MapGet("/chart", ModelAsync)
            .Reads("chartStrips", "The deviations of the strips against date, age, opening or area: every number that a drawing shows.");
        charts.MapGet("/chart.svg", DrawAsync)
            .Reads("drawStrips", "The same chart, drawn.")
            .Produces<string>(StatusCodes.Status200OK, "image/svg+xml");
        charts.MapGet("/report", ReportAsync)
            .Reads("report", "A report as one HTML page: is the process in control, what moved, what may be behind it.")
            .Produces<string>(StatusCodes.Status200OK, "text/html");
    }

    private static async Task<ChartDocument> ModelAsync(
        [AsParameters] StripsQuery strips,
        [AsParameters] ChartQuery chart,
        ChartDesk desk,
        TimeProvider time,
        CancellationToken cancellationToken) =>
        ChartJson.Of((await desk.AskAsync(chart.Asked(strips, time), cancellationToken)).Model);

    private static async Task<IResult> DrawAsync(
        [AsParameters] StripsQuery strips,
        [AsParameters] ChartQuery chart,
        [FromQuery, Description("Width in pixels.")] int? width,
        ChartDesk desk,
        ServiceDrawings drawings,
        TimeProvider time,
        CancellationToken cancellationToken)
    {
        var wide = width ?? drawings.UsualWidth;
        if (wide < drawings.LeastWidth || wide > drawings.LargestWidth)
        {
            throw new BadHttpRequestException(string.Create(
                CultureInfo.InvariantCulture, $"width takes a whole number from {drawings.LeastWidth} to {drawings.LargestWidth}."));
        }

        var answer = await desk.AskAsync(chart.Asked(strips, time), cancellationToken);
        return answer.WhyEmpty is { } why
            ? throw new BenchException(why)
            : Results.Text(drawings.Svg(answer.Model, wide), "image/svg+xml; charset=utf-8");
    }

    private static async Task<IResult> ReportAsync(
        [AsParameters] StripsQuery strips,
        [FromQuery, Description("About this one strip; those of its line that ran before stand beside it.")] string? strip,
        [FromQuery, Description("Size of the paper: a4 or letter; what the printer has when not given.")] string? paper,
        ReportDesk desk,
        ServiceDrawings drawings,
        TimeProvider time,
        CancellationToken cancellationToken)
    {
        var size = ReportPaper.Parse(paper);
        return Results.Text(
            drawings.Report(await desk.AskAsync(new ReportAsked(strips.Filter(time), strip), cancellationToken), size),
            "text/html; charset=utf-8");
    }
}

/// <summary>What of the strips is charted.</summary>
internal sealed record ChartQuery
{
    [FromQuery(Name = "parameter")]
    [Description("Only this parameter, by key; may be repeated.")]
    public string[]? Parameter { get; init; }

    [FromQuery(Name = "axis")]
    [Description("What it is drawn against: date, age, open or area; date when not given.")]
    public string? Axis { get; init; }

    /// <exception cref="BenchException">It is no axis, or a day is none.</exception>
    public ChartAsked Asked(StripsQuery strips, TimeProvider time) => new(strips.Filter(time))
    {
        Axis = ChartAxisWords.Parse(Axis ?? "date"),
        Parameters = [.. Parameter ?? []],
    };
}
